"""The build as it was meant. Frozen; lengths m, times s, masses kg, temperatures K, shares 0 to 1.

Places (`span`) take no part in equality, so two specs are equal when they mean the same.
"""

from castlang.spec.model.build import Away, Build, Climate, Exchange, Reading, Shift, Spec
from castlang.spec.model.equipment import Edge, Fitting, Mold, Panel, Station
from castlang.spec.model.materials import (
    Acts,
    Dose,
    DoseKind,
    Ingredient,
    Kit,
    Mix,
    Pack,
    Package,
    Role,
    Stock,
    Water,
)
from castlang.spec.model.pieces import Job, Leg, Lip, Mesh, Part, Piece, Shape
from castlang.spec.model.records import Done, Measured, Waiver
from castlang.spec.model.steps import (
    PUT_ON,
    After,
    Copies,
    FaceRef,
    Gang,
    Gap,
    GapKind,
    Item,
    Step,
    StepKind,
    StepRef,
    ThingRef,
)
from castlang.spec.model.times import NOWHERE, Days, Window

__all__ = [
    "NOWHERE",
    "PUT_ON",
    "Acts",
    "After",
    "Away",
    "Build",
    "Climate",
    "Copies",
    "Days",
    "Done",
    "Dose",
    "DoseKind",
    "Edge",
    "Exchange",
    "FaceRef",
    "Fitting",
    "Gang",
    "Gap",
    "GapKind",
    "Ingredient",
    "Item",
    "Job",
    "Kit",
    "Leg",
    "Lip",
    "Measured",
    "Mesh",
    "Mix",
    "Mold",
    "Pack",
    "Package",
    "Panel",
    "Part",
    "Piece",
    "Reading",
    "Role",
    "Shape",
    "Shift",
    "Spec",
    "Station",
    "Step",
    "StepKind",
    "StepRef",
    "Stock",
    "ThingRef",
    "Waiver",
    "Water",
    "Window",
]
