"""Which numbers have a tolerance: as described, and as told for a study."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from armwright.describe import CellDescription, DesignNumber
from armwright.describe.design_numbers import design_number, design_numbers, with_numbers
from armwright.describe.units import Kind
from armwright.describe.wrong import Wrong, shown
from armwright.errors import InputError

_PEAKS = {"torque_peak": "torque_continuous", "force_peak": "force_continuous"}


def take_tolerances(cell: CellDescription, told: Any) -> list[DesignNumber]:
    """The numbers that have a tolerance: as described, and as told (by name: a share, "10 %", or an amount, "0.5 mm");
    told 0, none. A number that another stands for counts once."""
    given = {} if told is None else told
    if not isinstance(given, Mapping):
        raise InputError.of("tolerances", shown(told), 'tolerances by name, as {"tool.mass": "10 %"}')
    chosen = {number.path: number for number in design_numbers(cell) if number.tolerance > 0}
    for path in list(chosen):
        if goes_along(cell, path) & set(chosen):
            del chosen[path]  # a length or a stroke, by what it is made of; a peak that is the continuous torque
    for path, value in given.items():
        number = design_number(cell, path)
        amount = _amount(number, f"tolerances[{path}]", value)
        for other in goes_along(cell, path):
            chosen.pop(other, None)
        _check_ends(cell, number, amount, f"tolerances[{path}]", value)
        chosen[path] = DesignNumber(path, number.value, number.unit, amount)
    found = [number for number in chosen.values() if number.tolerance > 0]
    if not found:
        raise InputError.of("tolerances", "none", 'numbers with a tolerance: "4.2 kg ± 10 %" in the description, or '
                            'tolerances={"tool.mass": "10 %"}')  # fmt: skip
    for number in found:
        for other in goes_along(cell, number.path):
            if other in given and number.path in given:
                key = f"tolerances[{number.path}]"
                raise InputError.of(key, f"a tolerance besides that of {other}", "one of the two")
    return found


def _amount(number: DesignNumber, key: str, value: Any) -> float:
    """A tolerance in the number's unit: a text with its unit, a share of the number ("10 %"), or SI."""
    unit = "" if number.unit == "1" else number.unit
    text = re.sub(r"^\s*(±|\+/?-)", "", value) if isinstance(value, str) else value
    share = isinstance(text, str) and text.rstrip().endswith("%")
    kind = Kind("a tolerance", "" if share else unit, (unit,) if unit else (), f"0.1 {unit}".strip(), least=0.0)
    try:
        return float(kind.from_python(text)) * (abs(number.value) if share else 1.0)
    except Wrong as wrong:
        raise InputError.of(key, shown(value), f'{wrong.expected}, or a share, as "10 %"', wrong.meant) from None


def _check_ends(cell: CellDescription, number: DesignNumber, amount: float, key: str, told: Any) -> None:
    """Refuses a tolerance at whose ends there is no such design, as a mass below 0."""
    for end in (number.value - amount, number.value + amount) if amount > 0 else ():
        try:
            with_numbers(cell, {number.path: end})
        except InputError as error:
            unit = "" if number.unit == "1" else f" {number.unit}"
            value = f"{shown(told)}, which makes it {end:.4g}{unit}"
            raise InputError.of(key, value, f"a tolerance that leaves {error.problems[0].expected}") from None


def goes_along(cell: CellDescription, path: str) -> set[str]:
    """Names of numbers that the one of that name stands for, or goes along with: those of a placement by a link's
    length, the ends by a stroke, the continuous torque by a peak that is equal to it."""
    if path == "track.stroke":
        return {"track.stroke.lower", "track.stroke.upper"}
    owner, _, word = path.rpartition(".")
    if word in _PEAKS:
        other = f"{owner}.{_PEAKS[word]}"
        same = [(number.value, number.tolerance) for number in (design_number(cell, name) for name in (path, other))]
        return {other} if same[0] == same[1] else set()
    owners = ["arm.base_link", *(f"arm.links[{link.name}]" for link in cell.arm.links)]
    if word == "length" and owner in owners:
        i = owners.index(owner)
        end = f"arm.joints[{cell.arm.joints[i].name}].placement" if i < len(cell.arm.joints) else "arm.flange"
        return {f"{end}.{axis}" for axis in "xyz"}
    return set()
