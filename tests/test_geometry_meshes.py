"""Mesh files: figures, and every way in which a file can be wrong."""

import builtins
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest
from bodies import F, geometry, layer, less, near, shape
from hypothesis import given, settings
from hypothesis import strategies as st

from castlang.problems.model import Outcome
from castlang.spec.model import Mesh, Piece
from castlang.takeoff.geometry import Geometry, geometry_of

MILLIMETRE = F(1, 1000)


def _export(kind: str) -> bytes:
    """A block of 100 x 60 x 40 units, standing on its foot."""
    trimesh = pytest.importorskip("trimesh")
    mesh = trimesh.creation.box(extents=(100, 60, 40))
    data = mesh.export(file_type=kind)
    return data if isinstance(data, bytes) else data.encode()


def _mesh(
    data: bytes, file: str = "block.stl", unit: Fraction = MILLIMETRE, **more: Any
) -> Outcome[Geometry]:
    return geometry_of(Piece(name="piece", mesh=Mesh(file=file, unit=unit, data=data), **more))


@pytest.mark.parametrize("kind", ["stl", "obj", "3mf"])
def test_a_mesh_file_has_its_volume_and_its_faces_by_direction(kind: str) -> None:
    made = _mesh(_export(kind), f"block.{kind}").value

    assert made is not None
    assert made.volume == F("0.00024")
    assert {face: made.area(face) for face in ("up", "down", "sides", "all")} == {
        "up": F("0.006"),
        "down": F("0.006"),
        "sides": F("0.0128"),
        "all": F("0.0248"),
    }
    assert made.depth() == F("0.04")


def test_the_unit_of_a_mesh_is_the_one_that_is_told() -> None:
    made = _mesh(_export("stl"), unit=F(254, 10000)).value

    assert made is not None
    assert made.volume == F(240000) * F(254, 10000) ** 3


def test_a_mesh_of_a_frustum_agrees_with_the_shape() -> None:
    trimesh = pytest.importorskip("trimesh")
    surface = trimesh.creation.revolve([(0, 0), (150, 0), (180, 440), (0, 440)], sections=720)
    made = _mesh(surface.export(file_type="stl")).value
    plain = geometry(shape("frustum", top_dia=360, foot_dia=300, high=440))

    assert made is not None
    assert near(made.volume, plain.volume, F(1, 10**4))
    assert near(made.area("sides"), plain.area("side"), F(1, 10**4))
    assert near(made.area("up"), plain.area("top"), F(1, 10**4))


def test_a_mesh_that_is_turned_inside_out_has_the_same_figures() -> None:
    trimesh = pytest.importorskip("trimesh")
    surface = trimesh.creation.cone(radius=100, height=60)
    plain = _mesh(surface.export(file_type="stl")).value
    surface.invert()

    turned = _mesh(surface.export(file_type="stl")).value

    assert plain is not None
    assert turned is not None
    assert turned.volume == plain.volume
    assert turned.area("up") == plain.area("up")


def test_a_mesh_with_a_hole_in_it_is_refused() -> None:
    trimesh = pytest.importorskip("trimesh")
    surface = trimesh.creation.box(extents=(100, 60, 40))
    surface.update_faces([True] * 11 + [False])

    made = _mesh(surface.export(file_type="stl"))

    assert made.value is None
    assert [problem.finding.name for problem in made.problems] == ["mesh-open"]


@pytest.mark.parametrize("kind", ["stl", "obj", "3mf"])
@pytest.mark.parametrize(
    "data", [b"", b"solid", b"\x00" * 84, b"PK\x03\x04", b"v 1 2\nf 1 2 9\n", bytes(range(256)) * 4]
)
def test_a_broken_mesh_file_is_told_and_never_a_traceback(kind: str, data: bytes) -> None:
    made = _mesh(data, f"broken.{kind}")

    assert made.value is None
    assert [problem.finding.name for problem in made.problems] == ["mesh-file"]


@given(st.binary(max_size=400))
@settings(deadline=None, max_examples=40)
def test_no_bytes_at_all_break_the_mesh_reader(data: bytes) -> None:
    for kind in ("stl", "obj", "3mf"):
        assert _mesh(data, f"noise.{kind}").value is None


def test_a_mesh_of_another_kind_of_file_is_refused() -> None:
    made = _mesh(b"", "block.step")

    assert [problem.finding.name for problem in made.problems] == ["mesh-file"]


def test_without_the_extra_the_command_that_installs_it_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    plain: Callable[..., Any] = builtins.__import__

    def without(name: str, *rest: Any) -> Any:
        if name == "trimesh":
            raise ImportError(name)
        return plain(name, *rest)

    monkeypatch.setattr(builtins, "__import__", without)

    made = _mesh(b"")

    assert [(p.finding.name, p.finding.remedy) for p in made.problems] == [
        ("mesh-extra", 'pip install "castlang[mesh]"')
    ]


def test_a_part_on_a_mesh_is_refused() -> None:
    made = _mesh(_export("stl"), parts=(less("jet", "disc", "up", dia=20),))

    assert [problem.finding.name for problem in made.problems] == ["part-on-mesh"]


def test_a_layer_on_a_mesh_is_area_times_thickness_and_says_so() -> None:
    made = _mesh(_export("stl"), sequence=(layer("face", "2", "up"),))

    assert made.value is not None
    assert made.value.laid({"up": F("0.002")}) == F("0.000012")
    assert [told.says for told in made.assumptions] == ["area times thickness, corners not taken off"]
