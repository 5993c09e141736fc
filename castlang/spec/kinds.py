"""The plain shapes as data: the sizes each one needs, the faces it has, how it lies.

Left, right, front, back, top and foot are seen from the front of the piece as it stands in use. `long` runs
from left to right, `wide` from front to back, `high` from foot to top. Pure data: no quantities here.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """One plain shape.

    sizes: the words that it needs; optional: those that it may have; alternatives: for a size, other words
    that mean the same here. depth: the size that a `less` may leave out, and then goes through.
    faces: single faces in their fixed order; groups: names for several; only_with: faces that are there only
    when an optional size is. seat: the face that `plus` and `less` sit on when none is said.
    edges: where a `lip` may run. less, plus: whether it can be cut out, or stand on a face.
    """

    name: str
    sizes: tuple[str, ...]
    optional: tuple[str, ...] = ()
    alternatives: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    depth: str | None = None
    faces: tuple[str, ...]
    groups: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    only_with: Mapping[str, str] = field(default_factory=dict)
    seat: str
    edges: tuple[str, ...] = ()
    less: bool = False
    plus: bool = False
    says: str


_ROUND_ABOUT = ("front", "back", "left", "right")
_BLOCK_FACES = ("top", "foot", *_ROUND_ABOUT)
_BLOCK_GROUPS = {"ends": ("left", "right"), "sides": _ROUND_ABOUT}

_KINDS = (
    Kind(
        name="slab",
        sizes=("long", "wide", "thick"),
        alternatives={"thick": ("deep", "high")},
        depth="thick",
        faces=_BLOCK_FACES,
        groups=_BLOCK_GROUPS,
        seat="top",
        less=True,
        plus=True,
        says="a flat plate lying down; layers grow inward from each face",
    ),
    Kind(
        name="panel",
        sizes=("long", "high"),
        optional=("thick",),
        alternatives={"high": ("wide",)},
        faces=("front", "back", "top", "foot", "left", "right"),
        groups={"ends": ("left", "right"), "sides": ("top", "foot", "left", "right")},
        seat="front",
        edges=("top", "foot", "left", "right", "ends"),
        says="a plate standing up, cast front face down; without a thickness its layers make it, "
        "front to back",
    ),
    Kind(
        name="box",
        sizes=("long", "wide", "high"),
        alternatives={"high": ("deep", "thick")},
        depth="high",
        faces=_BLOCK_FACES,
        groups=_BLOCK_GROUPS,
        seat="top",
        less=True,
        plus=True,
        says="a solid block; layers grow inward from each face",
    ),
    Kind(
        name="tray",
        sizes=("long", "wide", "high", "thick"),
        optional=("deep",),
        alternatives={"thick": ("wall",)},
        faces=(*_ROUND_ABOUT, "foot", "rim", "walls", "floor"),
        groups={
            "outside": _ROUND_ABOUT,
            "sides": _ROUND_ABOUT,
            "ends": ("left", "right"),
            "inside": ("walls", "floor"),
            "top": ("rim",),
        },
        seat="floor",
        plus=True,
        says="a box open at the top, its floor as thick as its walls unless `deep` tells the inside depth; "
        "layers inside grow outward into the wall",
    ),
    Kind(
        name="bowl",
        sizes=("dia", "high", "thick"),
        optional=("foot-dia",),
        alternatives={"thick": ("wall",), "dia": ("top-dia",)},
        faces=("outside", "foot", "rim", "inside"),
        groups={"sides": ("outside",), "side": ("outside",), "top": ("rim",), "floor": ("inside",)},
        only_with={"foot": "foot-dia"},
        seat="inside",
        says="a part of a hollow sphere, open at the top; `foot-dia` gives it a flat foot to stand on",
    ),
    Kind(
        name="disc",
        sizes=("dia", "thick"),
        alternatives={"thick": ("high", "deep")},
        depth="thick",
        faces=("side", "top", "foot"),
        groups={"sides": ("side",), "ends": ("top", "foot"), "outside": ("side",)},
        seat="top",
        less=True,
        plus=True,
        says="a round plate or a cylinder standing up",
    ),
    Kind(
        name="tube",
        sizes=("dia", "high", "thick"),
        optional=("deep",),
        alternatives={"thick": ("wall",), "high": ("long",)},
        depth="high",
        faces=("side", "walls", "rim", "foot", "floor"),
        groups={
            "outside": ("side",),
            "sides": ("side",),
            "inside": ("walls", "floor"),
            "top": ("rim",),
            "ends": ("rim", "foot"),
        },
        only_with={"floor": "deep"},
        seat="side",
        less=True,
        plus=True,
        says="a hollow cylinder standing up, open at both ends; `deep`, less than `high`, gives it a floor",
    ),
    Kind(
        name="frustum",
        sizes=("top-dia", "foot-dia", "high"),
        alternatives={"high": ("deep",)},
        depth="high",
        faces=("side", "top", "foot"),
        groups={"sides": ("side",), "ends": ("top", "foot"), "outside": ("side",)},
        seat="top",
        less=True,
        plus=True,
        says="a cone cut off flat, standing up; as a cut-out it keeps its top up",
    ),
    Kind(
        name="dome",
        sizes=("dia", "high"),
        optional=("thick",),
        alternatives={"thick": ("wall",), "high": ("deep", "rise")},
        faces=("outside", "foot", "inside"),
        groups={"sides": ("outside",), "side": ("outside",), "top": ("outside",), "rim": ("foot",)},
        only_with={"inside": "thick"},
        seat="foot",
        less=True,
        plus=True,
        says="a cap of a sphere standing on its flat foot, not higher than half its width; `thick` makes it "
        "hollow from below",
    ),
    Kind(
        name="ramp",
        sizes=("long", "wide", "rise"),
        optional=("thick",),
        alternatives={"rise": ("high", "deep")},
        faces=("top", "foot", "left", "right", "front", "back"),
        groups={"ends": ("left", "right"), "sides": ("left", "right", "front", "back")},
        only_with={"left": "thick"},
        seat="top",
        less=True,
        plus=True,
        says="a wedge that rises by `rise` from left to right; `thick` is its height at the low end",
    ),
    Kind(
        name="angle",
        sizes=("long", "leg", "rise", "thick"),
        alternatives={"thick": ("wall",), "leg": ("wide",), "rise": ("high",)},
        faces=("top", "front", "inside", "back", "foot", "left", "right"),
        groups={
            "outside": ("top", "front"),
            "ends": ("left", "right"),
            "sides": _ROUND_ABOUT,
        },
        seat="top",
        plus=True,
        says="a flat `leg` wide with an apron hanging from its front, `rise` high; outside is top and front",
    ),
    Kind(
        name="channel",
        sizes=("long", "wide", "high", "thick"),
        alternatives={"thick": ("wall",)},
        faces=("front", "back", "foot", "rim", "walls", "floor", "left", "right"),
        groups={
            "outside": ("front", "back"),
            "inside": ("walls", "floor"),
            "ends": ("left", "right"),
            "sides": _ROUND_ABOUT,
            "top": ("rim",),
        },
        seat="floor",
        plus=True,
        says="a trough open at the top and at both ends",
    ),
    Kind(
        name="corner-wall",
        sizes=("long", "wide", "high"),
        faces=("front", "side", "back", "top", "foot", "ends"),
        groups={"outside": ("front", "side"), "inside": ("back",), "sides": ("front", "side")},
        seat="front",
        edges=("top", "foot", "ends"),
        says="two walls that meet in an outside corner, front `long` and side `wide`; its layers make it, "
        "outside to inside",
    ),
    Kind(
        name="run",
        sizes=("high",),
        optional=("thick",),
        alternatives={"thick": ("wall",)},
        faces=("front", "back", "top", "foot", "ends"),
        groups={"outside": ("front",), "inside": ("back",), "sides": ("front", "back")},
        seat="front",
        edges=("top", "foot", "ends"),
        says="a folded wall, its legs measured along the front; without a thickness its layers make it",
    ),
)

KINDS: Mapping[str, Kind] = {kind.name: kind for kind in _KINDS}

BY_OTHER_NAMES: Mapping[str, str] = {
    "cylinder": "a cylinder is a `disc`; a hollow one is a `tube`",
    "pipe": "a pipe is a `tube`",
    "ring": "a ring is a `tube` that is not high",
    "plate": "a plate lying down is a `slab`, one standing up a `panel`",
    "cube": "a cube is a `box`",
    "block": "a block is a `box`",
    "beam": "a beam is a `box`",
    "cone": "a cone is a `frustum` with a small `top-dia`; what runs out in a point is a mesh file",
    "wedge": "a wedge is a `ramp`",
    "sphere": "half a sphere or less is a `dome`, a hollow one a `bowl`; a whole one is a mesh file",
    "basin": "a basin is a `tray` or a `bowl`",
    "trough": "a trough with ends is a `tray`, one without a `channel`",
    "wall": "a wall is a `panel`, a folded one a `run`, a corner a `corner-wall`",
    "arc": "a curve is a `run` of short legs with a small turn between them, or a mesh file",
    "curve": "a curve is a `run` of short legs with a small turn between them, or a mesh file",
    "dovetail": "what is wider behind than in front is a mesh file",
    "undercut": "what is wider behind than in front is a mesh file",
}
"""What a shape that has another name here, or none, is written as."""

MESH_FACES = ("up", "down", "sides")


def face_names(kind: str) -> tuple[str, ...]:
    """Every face word that a shape of this kind can have: "all", single faces, groups.

    "mesh" gives the faces of a mesh file. Raises KeyError for a kind that is not known.
    """
    if kind == "mesh":
        return ("all", *MESH_FACES)
    told = KINDS[kind]
    return ("all", *told.faces, *(name for name in told.groups if name not in told.faces))


def faces_of(kind: str, sizes: Collection[str]) -> tuple[str, ...]:
    """The face words that a shape with these size words has: a tube has a floor only when it says `deep`.

    Raises KeyError for a kind that is not known.
    """
    if kind == "mesh":
        return face_names(kind)
    told = KINDS[kind]
    words = set(sizes)
    present = [f for f in told.faces if told.only_with.get(f, "") in (words | {""})]
    groups = [g for g, members in told.groups.items() if g not in present and set(members) & set(present)]
    return ("all", *present, *groups)


def size_words(kind: str) -> tuple[str, ...]:
    """Every size word that this kind takes, its alternatives included, in a fixed order."""
    told = KINDS[kind]
    words = list(told.sizes) + list(told.optional)
    for others in told.alternatives.values():
        words += [word for word in others if word not in words]
    return tuple(words)


def plain_words(kind: str, sizes: Collection[str]) -> Mapping[str, str]:
    """For each written size word the plain one that it stands for here: `wall` is the `thick` of a tray.

    Words that the kind does not take are left out. Two written words may stand for the same plain one.
    """
    told = KINDS[kind]
    plain = {word: word for word in (*told.sizes, *told.optional)}
    for meant, others in told.alternatives.items():
        for word in others:
            plain.setdefault(word, meant)
    return {word: plain[word] for word in sizes if word in plain}


def missing_sizes(kind: str, sizes: Collection[str], *, cut: bool = False) -> tuple[str, ...]:
    """The size words that are still needed. A cut-out may leave out its depth."""
    told = KINDS[kind]
    there = set(plain_words(kind, sizes).values())
    spare = {told.depth} if cut else set()
    return tuple(word for word in told.sizes if word not in there and word not in spare)
