"""Alternatives: real changes of a design, each with its price."""

from __future__ import annotations

import math
import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from armwright import arguments
from armwright.describe import CellDescription, Parts, load_parts
from armwright.describe.design_numbers import design_part
from armwright.describe.wrong import shown
from armwright.errors import InputError


@dataclass(frozen=True)
class Alternative:
    """A change that can be bought. ``values``: design numbers, or parts, by name, as Cell.with_numbers takes them;
    ``price`` in any currency, None: not known; ``name``: left out, made of the values.

    >>> aw.Alternative({"tool.mass": "1.4 kg"}, price=90, name="lighter fork")
    Alternative(values={'tool.mass': '1.4 kg'}, price=90.0, name='lighter fork')
    """

    values: Mapping[str, Any]
    price: float | None = None
    name: str = field(default="")

    def __post_init__(self) -> None:
        if not isinstance(self.values, Mapping) or not self.values:
            raise InputError.of("Alternative.values", shown(self.values), 'values by name, as {"track.stroke": "2 m"}')
        if not isinstance(self.name, str):
            raise InputError.of("Alternative.name", shown(self.name), "a text")
        object.__setattr__(self, "values", dict(self.values))
        object.__setattr__(self, "name", self.name or ", ".join(f"{k} = {_shown(v)}" for k, v in self.values.items()))
        object.__setattr__(self, "price", _price("Alternative.price", self.price))


def _shown(value: Any) -> str:
    return str(getattr(value, "name", value))


def _price(key: str, value: Any) -> float | None:
    if value is None:
        return None
    price = arguments.numbers(key, value)
    if price.shape or not math.isfinite(price) or price < 0:
        raise InputError.of(key, shown(value), "a price of 0 or more, without its currency")
    return float(price)


def take_alternatives(cell: CellDescription, told: Any, parts: Any, prices: Any) -> list[Alternative]:
    """The alternatives of a study of changes: those told (a list of them, or values by the name of a number), and of a
    library of parts every other motor and stage of every drive. ``prices`` by the name of an alternative or a part."""
    known = dict(prices or {}) if isinstance(prices or {}, Mapping) else None
    if known is None:
        raise InputError.of("prices", shown(prices), 'prices by name, as {"1 kW motor": 410}')
    given = {name: _price(f"prices[{name}]", price) for name, price in known.items()}
    found = list(_told(told, given))
    if parts is not None:
        found += _of_parts(cell, load_parts(parts) if isinstance(parts, str | os.PathLike) else parts, given)
    arguments.named_once("alternatives", [each.name for each in found])
    used = {name for each in found for name in (each.name, *map(_shown, each.values.values()))}
    for name in given:
        if name not in used:
            if not used:
                raise InputError.of("prices", shown(name), "none: there are no alternatives, and no library of parts")
            arguments.choice("prices", name, dict.fromkeys(sorted(used)))
    return found


def _told(told: Any, prices: Mapping[str, float | None]) -> Iterator[Alternative]:
    if isinstance(told, Alternative):
        told = [told]
    if isinstance(told, Mapping):
        for path, values in told.items():
            if isinstance(values, str) or not hasattr(values, "__iter__"):
                raise InputError.of(f"alternatives[{path}]", shown(values), 'a list of values, as ["2 m", "3 m"]')
            for value in values:
                made = Alternative({path: value})
                yield Alternative({path: value}, prices.get(made.name, prices.get(_shown(value))))
        return
    if isinstance(told, str) or not hasattr(told, "__iter__"):
        raise InputError.of("alternatives", shown(told), "a list of Alternatives, or values by the name of a number")
    for i, each in enumerate(told):
        if not isinstance(each, Alternative):
            raise InputError.of(f"alternatives[{i}]", shown(each), "an Alternative")
        yield each if each.price is not None else Alternative(each.values, prices.get(each.name), each.name)


def _of_parts(cell: CellDescription, parts: Any, prices: Mapping[str, float | None]) -> Iterator[Alternative]:
    """Every other motor and stage in place of those of every drive; a stage that slides only for one that does."""
    if not isinstance(parts, Parts):
        raise InputError.of("parts", shown(parts), "Parts, as load_parts reads them, or the path of their file")
    drives = {joint.name: (f"arm.joints[{joint.name}].drive", joint.drive) for joint in cell.arm.joints}
    if cell.track is not None:
        drives["track"] = ("track.drive", cell.track.drive)
    for axis, (path, drive) in drives.items():
        if drive is None:
            continue
        for name, motor in parts.motors.items():
            if motor != drive.motor:
                yield Alternative({f"{path}.motor": motor}, prices.get(name), f"{axis}: {name}")
        for own in drive.stages:
            at = f"{path}.stages[{own.name}]"
            design_part(cell, at)
            for name, stage in parts.stages.items():
                if stage != own and stage.slides == own.slides:
                    instead = f" for {own.name}" if len(drive.stages) > 1 else ""
                    yield Alternative({at: stage}, prices.get(name), f"{axis}: {name}{instead}")
