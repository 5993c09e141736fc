" Vim syntax file
" Language: castlang, builds of cast pieces (*.pour)
"
" To use it, copy this file to ~/.vim/syntax/ and put into ~/.vim/ftdetect/castlang.vim:
"   autocmd BufRead,BufNewFile *.pour setfiletype castlang

if exists('b:current_syntax')
  finish
endif

syntax case match

" Later lines win where two begin at the same place.
syntax match castlangSize '\v[[:alnum:]_.-]@1<!%(long|wide|high|deep|thick|dia|top-dia|foot-dia|wall|rise|leg)[[:alnum:]_.-]@!'
syntax match castlangClause '\v[[:alnum:]_.-]@1<!%(added|after|as|at|batch-with|between|brushed|by|covered|damp|dry|each|earliest|fill|from|full|grit|into|laid|laps|latest|may-pause|mirrored|no-pause|of|on|open|overlap|placed|rate|rolled|solids|sprayed|step|takes|tend|through-breaks|to|total|until|using|waste|wet|x)[[:alnum:]_.-]@!'
syntax match castlangNumber '\v[[:alnum:]_.-]@1<!-?%(\d+[ -]\d+\/\d+|\d+\/\d+|\d+%(\.\d+)?)[[:alnum:]_.]@!'
syntax match castlangUnit '\v%(%(um|mm|cm|m|in|ft|yd|mil|m2|mm2|cm2|ft2|m3|ft3|mL|L|fl-oz|qt|gal|imp-gal|mg|g|kg|t|oz|lb|s|min|h|days|weeks|degC|degF|K|MPa|psi|deg|part|parts|coat|coats|layer|layers|piece|pieces|casting|castings|hrs|hr|hour|hours|mins|minute|minutes|sec|secs|day|week|lbs|kgs|°C|°F|m²|m³|ft²|ft³|mm²|cm²|µm|l|ml|feet|foot|inch|inches|gallon|gallons|quart|quarts|grams|litre|litres|liter|liters|[A-Z]{3})%(\/%(um|mm|cm|m|in|ft|yd|mil|m2|mm2|cm2|ft2|m3|ft3|mL|L|fl-oz|qt|gal|imp-gal|mg|g|kg|t|oz|lb|s|min|h|days|weeks|degC|degF|K|MPa|psi|deg|part|parts|coat|coats|layer|layers|piece|pieces|casting|castings|hrs|hr|hour|hours|mins|minute|minutes|sec|secs|day|week|lbs|kgs|°C|°F|m²|m³|ft²|ft³|mm²|cm²|µm|l|ml|feet|foot|inch|inches|gallon|gallons|quart|quarts|grams|litre|litres|liter|liters))*[[:alnum:]_-]@!|\%)' contained
syntax match castlangNumber '\v[[:alnum:]_.-]@1<!-?%(\d+[ -]\d+\/\d+|\d+\/\d+|\d+%(\.\d+)?)%( *%(%(um|mm|cm|m|in|ft|yd|mil|m2|mm2|cm2|ft2|m3|ft3|mL|L|fl-oz|qt|gal|imp-gal|mg|g|kg|t|oz|lb|s|min|h|days|weeks|degC|degF|K|MPa|psi|deg|part|parts|coat|coats|layer|layers|piece|pieces|casting|castings|hrs|hr|hour|hours|mins|minute|minutes|sec|secs|day|week|lbs|kgs|°C|°F|m²|m³|ft²|ft³|mm²|cm²|µm|l|ml|feet|foot|inch|inches|gallon|gallons|quart|quarts|grams|litre|litres|liter|liters|[A-Z]{3})%(\/%(um|mm|cm|m|in|ft|yd|mil|m2|mm2|cm2|ft2|m3|ft3|mL|L|fl-oz|qt|gal|imp-gal|mg|g|kg|t|oz|lb|s|min|h|days|weeks|degC|degF|K|MPa|psi|deg|part|parts|coat|coats|layer|layers|piece|pieces|casting|castings|hrs|hr|hour|hours|mins|minute|minutes|sec|secs|day|week|lbs|kgs|°C|°F|m²|m³|ft²|ft³|mm²|cm²|µm|l|ml|feet|foot|inch|inches|gallon|gallons|quart|quarts|grams|litre|litres|liter|liters))*[[:alnum:]_-]@!|\%))@=' nextgroup=castlangUnit skipwhite
syntax match castlangNumber '\v[[:alnum:]_.-]@1<!%(\d+%x27%([ -]?%(\d+[ -])?\d+%(\/\d+|\.\d+)?")?|%(\d+[ -])?\d+%(\/\d+|\.\d+)?")'
syntax match castlangDate '\v[[:alnum:]_.-]@1<!\d{4}-\d\d-\d\d[0-9-]@!'
syntax match castlangDate '\v[[:alnum:]_.:-]@1<!\d\d?:\d\d[0-9:]@!'
syntax match castlangLine '\v^[ \t]+\zs%(acts|after|ages|air|at|away|batch-with|between|binder|board|brushed|buy|by|carries|carry|closed|contingency|covered|covers|crew|cure|demold|density|doubles|draft|dry|due|each|earliest|edge|exchange|face|fiber|filler|fits|free|freight|grain|have|hazard|holds|holidays|hours|humidity|insert|into|keeps|kerf|kit|laid|laps|lasts|latest|layer|lead|least|leg|less|lift|lift-limit|lifts|lip|liquid|load|logger|lot|make|margin|may-pause|measure|mesh|mixing|move|night|no-pause|note|omit|on|open|order|ordered|overhead|overlap|panel|part|pass|pigment|place|plus|pour|press|price|print|priority|rate|reaches|recoat|release|revision|rolled|sand|scale|scrim|shape|sold|solids|sprayed|start|take|takes|tend|test|thick|through-breaks|turn|using|volume-solids|wage|wait|waste|water|weight|wet|wet-edge|within|work|works|write|yields)[[:alnum:]_-]@!'
syntax match castlangTop '\v^%(assume|done|measured|use|waive)[[:alnum:]_-]@!'
syntax match castlangBlock '\v^%(build|size|shop|stock|mix|mold|temp|station|fitting|piece|job)[[:alnum:]_-]@!' nextgroup=castlangName skipwhite
syntax match castlangName '\v[[:alpha:]][[:alnum:]_-]*' contained
syntax match castlangText '\v[[:alnum:]_"\x27]@1<!".*"'
syntax match castlangComment '#.*$'
syntax match castlangConflict '\v^%(\<{7}|\|{7}|\={7}|\>{7})%( .*)?$'

highlight default link castlangBlock Keyword
highlight default link castlangTop Keyword
highlight default link castlangLine Statement
highlight default link castlangClause Operator
highlight default link castlangSize Type
highlight default link castlangName Identifier
highlight default link castlangNumber Number
highlight default link castlangUnit Type
highlight default link castlangDate Constant
highlight default link castlangText String
highlight default link castlangComment Comment
highlight default link castlangConflict Error

let b:current_syntax = 'castlang'
