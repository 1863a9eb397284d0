"""Names of shapes that were given none, and of the kinds of shapes."""

from __future__ import annotations

from collections import Counter
from typing import Literal

from armwright.describe.shapes import Box, Capsule, ConvexHull, Cylinder, HalfSpace, Mesh, Shape, Sphere, changed

ShapeKind = Literal["box", "cylinder", "capsule", "sphere", "half_space", "convex_hull", "mesh"]
_KINDS: dict[type, ShapeKind] = {
    Box: "box", Cylinder: "cylinder", Capsule: "capsule", Sphere: "sphere", HalfSpace: "half_space",
    ConvexHull: "convex_hull", Mesh: "mesh",
}  # fmt: skip


def kind_of(shape: Shape) -> ShapeKind:
    """The word for a shape's kind, as the core and the pictures have it."""
    return _KINDS[type(shape)]


def is_unnamed(shape: Shape) -> bool:
    """Whether a shape goes by the name of its kind, as it does when it was given none."""
    return shape.name == type(shape).__dataclass_fields__["name"].default


def numbered(shapes: tuple[Shape, ...]) -> tuple[Shape, ...]:
    """The shapes; those of one kind that were given no name are told apart by numbers that are free: "box 1", "box
    2"."""
    counts = Counter(shape.name for shape in shapes if is_unnamed(shape))
    taken = {shape.name for shape in shapes}
    result = []
    for shape in shapes:
        if is_unnamed(shape) and counts[shape.name] > 1:
            name = next(name for i in range(len(shapes) + 1) if (name := f"{shape.name} {i + 1}") not in taken)
            taken.add(name)
            shape = changed(shape, name=name)  # noqa: PLW2901
        result.append(shape)
    return tuple(result)
