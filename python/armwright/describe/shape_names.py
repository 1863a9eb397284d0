"""Names of shapes that were given none."""

from __future__ import annotations

from collections import Counter

from armwright.describe.shapes import Shape, changed


def is_unnamed(shape: Shape) -> bool:
    """Whether a shape goes by the name of its kind, as it does when it was given none."""
    return shape.name == type(shape).__dataclass_fields__["name"].default


def numbered(shapes: tuple[Shape, ...]) -> tuple[Shape, ...]:
    """The shapes; those of one kind that were given no name are told apart by numbers: "box 1", "box 2"."""
    counts = Counter(shape.name for shape in shapes if is_unnamed(shape))
    seen: Counter[str] = Counter()
    result = []
    for shape in shapes:
        if is_unnamed(shape) and counts[shape.name] > 1:
            seen[shape.name] += 1
            shape = changed(shape, name=f"{shape.name} {seen[shape.name]}")  # noqa: PLW2901
        result.append(shape)
    return tuple(result)
