"""The two faces of the embedded typeface: their widths, and which characters they can show."""

import io
import unicodedata
from dataclasses import dataclass
from functools import cache
from importlib import resources

FILES = {False: "DejaVuSansCondensed.ttf", True: "DejaVuSansCondensed-Bold.ttf"}
NAMES = {False: "castlang-regular", True: "castlang-bold"}

# The height of capitals over the base line, as a share of the size: both faces alike.
CAPITALS = 0.729


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """name: under which reportlab knows it. widths: character to advance, in thousandths of the size;
    holds only characters that leave a mark, a space or an accent on paper."""

    name: str
    widths: dict[str, float]


@cache
def face(bold: bool) -> Face:
    """The regular or the bold face, read from the package and made known to reportlab once."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    data = resources.files("castlang.out.fonts").joinpath(FILES[bold]).read_bytes()
    font = TTFont(NAMES[bold], io.BytesIO(data), validate=0, asciiReadable=1, shapable=False)
    pdfmetrics.registerFont(font)
    advances = font.face.charWidths
    pairs = ((chr(code), advances[code]) for code in sorted(font.face.charToGlyph) if code in advances)
    return Face(name=NAMES[bold], widths={c: w for c, w in pairs if w > 0 or unicodedata.category(c) == "Mn"})


@cache
def shown() -> frozenset[str]:
    """The characters that both faces can show."""
    return frozenset(face(False).widths) & frozenset(face(True).widths)
