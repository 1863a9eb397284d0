"""Design numbers: every number of a cell by name, to be looked up and changed.

A name is the dotted path through the descriptions, members of lists by their own name in brackets (by their place, from
0, where two share a name, or have none): "arm.joints[axis 2].drive.stages[gear].ratio", "tool.mass", "mount.z",
"track.guide.rails[0]". Positions have .x, .y, .z (those in a plane .x, .y); poses .roll, .pitch, .yaw besides (about
fixed axes, as in URDF); inertias .xx to .yz; ranges .lower and .upper; friction .forward and .backward; a pair of
bearings told by two ratings .near and .far; two edges .width and .height (a plate's .length and .width). What goes
along with a number: docs/methods.md, "Design numbers".
"""

from __future__ import annotations

import difflib
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from armwright.describe.cell import CellDescription
from armwright.describe.described import Described
from armwright.describe.design_nodes import Node, nodes_of
from armwright.describe.quantity_text import quantity
from armwright.describe.units import Measured
from armwright.describe.wrong import shown
from armwright.errors import InputError, Problem


@dataclass(frozen=True)
class DesignNumber:
    """A number of a design: its name, its value and tolerance (0: none told) in ``unit``, of SI ("1": without one). It
    prints as a file would tell it.

    >>> cell.design_number("track.stroke")
    track.stroke = 2.1 m
    """

    path: str
    value: float
    unit: str
    tolerance: float = 0.0

    def __repr__(self) -> str:
        return f"{self.path} = {quantity(self.value, self.unit, self.tolerance)}"


def design_numbers(cell: CellDescription) -> tuple[DesignNumber, ...]:
    """All numbers of a cell that were told."""
    return tuple(_told(path, node) for path, node in nodes_of(cell).items() if isinstance(node.value, Measured))


def design_number(cell: CellDescription, path: str) -> DesignNumber:
    """The number of that name; InputError with the nearest, if there is none or it was not told."""
    node = _found(cell, path)
    if not isinstance(node.value, Measured):
        inside = [other.path for other in design_numbers(cell) if other.path.startswith(path)]
        raise InputError.of(path, "nothing told" if node.value is None or node.value == math.inf else "a part",
                            "the name of a number that is told", inside[0] if inside else "")  # fmt: skip
    return _told(path, node)


def design_part(cell: CellDescription, path: str) -> Any:
    """The part (or number) of that name, as described."""
    return _found(cell, path).value


def with_numbers(cell: CellDescription, values: Mapping[str, Any]) -> CellDescription:
    """The cell with other numbers (SI, text with a unit, or pint), or other parts (a Motor, a Stage ...) in place of
    those named; checked as if it were new. A tolerance is told with the value or is gone."""
    waiting = dict(values)
    while waiting:
        refused: InputError | None = None
        for path in list(waiting):
            try:
                cell = _set(cell, path, waiting[path])
            except InputError as error:  # perhaps it goes together with one that is not set yet
                refused = refused or error
            else:
                del waiting[path]
                break
        else:
            assert refused is not None
            raise refused
    return cell


def _set(cell: CellDescription, path: str, value: Any) -> CellDescription:
    node = _found(cell, path)
    if isinstance(node.value, Described) and not isinstance(value, Described) and value is not None:
        raise InputError.of(path, shown(value), f"a {type(node.value).__name__}")
    try:
        made: CellDescription = node.put(value)
    except InputError as error:
        own = path.rpartition(".")[2]
        raise InputError(
            Problem(path if problem.key.rpartition(".")[2] in (own, "") else f"{path} ({problem.key})",
                    problem.value, problem.expected, problem.meant) for problem in error.problems
        ) from None  # fmt: skip
    return made


def _told(path: str, node: Node) -> DesignNumber:
    value: Measured = node.value
    return DesignNumber(path, float(value) + 0.0, value.unit or "1", float(value.tolerance))


def _found(cell: CellDescription, path: Any) -> Node:
    if isinstance(path, str) and path and path in (nodes := nodes_of(cell, path)):
        return nodes[path]
    near = difflib.get_close_matches(str(path), nodes_of(cell), 1, 0.4)
    known = "the name of a design number, as `armwright numbers` and design_numbers() list them"
    raise InputError.of(str(path), "no such number", known, f'"{near[0]}"' if near else "")
