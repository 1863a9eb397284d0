"""Design numbers and the studies over many designs, as methods of a cell."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from armwright.describe import DesignNumber
from armwright.describe.design_numbers import design_number, design_numbers, with_numbers
from armwright.errors import InputError
from armwright.machine import Machine

if TYPE_CHECKING:
    from armwright.cell import Cell


class DesignNumbers(tuple[DesignNumber, ...]):
    """Design numbers, told one a line."""

    __slots__ = ()

    def __repr__(self) -> str:
        return "\n".join(map(repr, self)) or "no design numbers"


class Designed(Machine):
    """A cell as one of many that it could be."""

    def design_numbers(self, containing: str = "") -> DesignNumbers:
        """Every number of the cell's description that was told, with the name by which it is looked up and changed, its
        value, unit (SI) and tolerance; those whose name contains a text. See docs/methods.md for how names are made
        and what goes with what."""
        if not isinstance(containing, str):
            raise InputError.of("containing", repr(containing), "a text")
        return DesignNumbers(n for n in design_numbers(self._description) if containing in n.path)

    def design_number(self, path: str) -> DesignNumber:
        """The number of that name, as "arm.links[upper arm].mass"."""
        return design_number(self._description, path)

    def with_numbers(self, values: Mapping[str, Any]) -> Cell:
        """The cell with other numbers: ``values`` by name; SI, text with a unit, or pint; with a tolerance, if that is
        told ("4.2 kg ± 10 %"). A Motor, Stage, Brake, Tool ... takes the place of one named in the same way
        ("arm.joints[axis 2].drive.motor"). Checked as a new cell is. What goes along with what: docs/methods.md."""
        from armwright.cell import Cell

        if not isinstance(values, Mapping):
            raise InputError.of("values", repr(values), "a dict of names and values")
        return Cell.from_description(with_numbers(self._description, values))
