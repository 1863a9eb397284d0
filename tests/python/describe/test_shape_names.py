from __future__ import annotations

import pytest

from armwright.describe import Box, Capsule, ConvexHull, Cylinder, HalfSpace, Sphere
from armwright.describe.shape_names import is_unnamed, kind_of, numbered
from armwright.describe.shapes import Shape

CORNERS = [(0, 0, 0), (1, 0, 0), (0, 1, 0), (0, 0, 1)]


def box(name: str | None = None) -> Box:
    return Box((1, 1, 1)) if name is None else Box((1, 1, 1), name=name)


@pytest.mark.parametrize(
    ("shape", "kind"),
    [
        (box(), "box"), (Sphere(1), "sphere"), (Cylinder(1, 1), "cylinder"), (Capsule(1, 1), "capsule"),
        (HalfSpace(), "half_space"), (ConvexHull(CORNERS), "convex_hull"),
    ],
)  # fmt: skip
def test_kinds(shape: Shape, kind: str) -> None:
    assert kind_of(shape) == kind and is_unnamed(shape)


def test_a_shape_with_a_name_is_not_unnamed() -> None:
    assert not is_unnamed(box("post")) and is_unnamed(box("box"))


@pytest.mark.parametrize(
    ("told", "names"),
    [
        ([None], ["box"]),
        ([None, None], ["box 1", "box 2"]),
        ([None, "post", None], ["box 1", "post", "box 2"]),
        (["box 1", None, None], ["box 1", "box 2", "box 3"]),
        ([None, None, "box 2", None], ["box 1", "box 3", "box 2", "box 4"]),
        (["post", "post"], ["post", "post"]),  # said twice by the user: told elsewhere
    ],
)
def test_the_unnamed_are_told_apart_by_numbers_that_are_free(told: list[str | None], names: list[str]) -> None:
    shapes = numbered(tuple(box(name) for name in told))
    assert [shape.name for shape in shapes] == names
    assert [shape.name for shape in numbered(shapes)] == names


def test_each_kind_has_its_own_numbers() -> None:
    shapes = numbered((box(), Sphere(1), box(), Sphere(2), HalfSpace()))
    assert [shape.name for shape in shapes] == ["box 1", "sphere 1", "box 2", "sphere 2", HalfSpace().name]
    assert shapes[3].radius == 2  # type: ignore[union-attr]
