"""Quantities: numbers with units in text, from Python as SI floats, text or pint quantities, and SI inside.

The type is our own over pint, because plain pint reads "1,5 m" as 15 m, takes energy for torque and mass for force,
and calls "Nm" a textile unit. A bare number is refused in a file wherever a unit is needed.
"""

from __future__ import annotations

import difflib
import json
import math
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import core_schema

from armwright.describe.number_text import DECIMAL_COMMA, NUMBER_TEXT, QUANTITY, TOLERANCE, number, times
from armwright.describe.unit_text import force_hint, unit_factor, unit_hint
from armwright.describe.wrong import Wrong, told_to_pydantic

# Beyond this no quantity here makes sense, and products of several would overflow.
LARGEST = 1e12
_PLAIN = re.compile(r"-?\d+(\.\d+)?")


class Measured(float):
    """A number in SI that may carry a tolerance (absolute, same unit): "4.2 kg ± 10 %" is 4.2 with tolerance 0.42.
    ``unit``: of SI, as its kind has it; "" for numbers without one."""

    tolerance: float
    unit: str

    def __new__(cls, value: float, tolerance: float = 0.0, unit: str = "") -> Measured:
        self = super().__new__(cls, value)
        self.tolerance, self.unit = tolerance, unit
        return self

    def scaled(self, factor: float) -> Measured:
        """The number and its tolerance times a factor."""
        return Measured(self * factor, self.tolerance * abs(factor), self.unit)

    def __reduce__(self) -> tuple[Any, ...]:
        return Measured, (float(self), self.tolerance, self.unit)


@dataclass(frozen=True)
class Kind:
    """A kind of quantity: its SI unit and what people are likely to write."""

    name: str
    si: str
    units: tuple[str, ...]
    example: str
    least: float | None = None  # smallest value taken
    above: float | None = None  # every value taken is larger
    most: float | None = None
    whole: bool = False  # only whole numbers are taken

    @property
    def expected(self) -> str:
        text = f'{self.name} with its unit, as "{self.example}"' if self.si else f'{self.name}, as "{self.example}"'
        return text + self._bounds

    @property
    def _bounds(self) -> str:
        text, shown = "", f" {self.si}" if self.si else ""
        for word, bound in (("more than", self.above), ("at least", self.least), ("at most", self.most)):
            if bound is not None and not (word == "at least" and self.above is not None and self.above >= bound):
                text += f", {word} {bound:g}{shown}"
        return text

    def from_text(self, text: str) -> Measured:
        """Value in SI of a text such as "410 mm" or "4.2 kg ± 10 %"; Wrong if it is none."""
        if len(text) > 100:
            raise Wrong(self.expected)
        nominal, *rest = TOLERANCE.split(text)
        if len(rest) > 1:
            raise Wrong(self.expected)
        value = self._plain(nominal, rest[0] if rest else None)
        tolerance = 0.0
        if rest:
            share = re.fullmatch(rf"\s*({NUMBER_TEXT})\s*%\s*", rest[0])
            tolerance = abs(value) * float(share[1]) / 100 if share else self._plain(rest[0], None)
            if not tolerance >= 0 or math.isinf(tolerance):
                raise Wrong("a tolerance of 0 or more")
        measured = self._bounded(Measured(value, tolerance, self.si))
        if not all(self._within(end) for end in (value - tolerance, value + tolerance)):
            raise Wrong(f"a tolerance that leaves it{self._bounds.removeprefix(',')}")
        return measured

    def _plain(self, text: str, tolerance: str | None) -> float:
        comma = DECIMAL_COMMA.fullmatch(text)
        if comma:
            whole, part, unit = comma.groups()
            meant = f'"{whole}.{part} {unit}'.rstrip() + '"'
            if len(part) == 3 and whole.strip("+-0"):  # a comma between thousands, perhaps
                meant = f'"{whole}{part} {unit}'.rstrip() + '" or ' + meant
            raise Wrong("a decimal point and no comma", meant)
        match = QUANTITY.fullmatch(text)
        if not match:
            raise Wrong(self.expected)
        amount, unit = number(match["number"]), match["unit"]
        if not unit and tolerance:  # "4.2 ± 0.1 kg": one unit for both
            shared = QUANTITY.fullmatch(tolerance)
            unit = shared["unit"] if shared and shared["unit"] != "%" else ""
        if not unit and self.si:
            raise Wrong(self.expected, f'"{match["number"]} {self.units[0]}"')
        value = times(amount, self.factor(unit)) if unit else amount
        if not abs(value) <= LARGEST:
            raise Wrong("a finite number")
        return value

    def factor(self, unit: str) -> float:
        """How many SI units one ``unit`` is."""
        result = unit_factor(unit, self.si)
        if isinstance(result, float):
            return result
        expected = (
            f"a unit of {self.name.removeprefix('a ').removeprefix('an ')}, as {', '.join(self.units[:4])}"
            if self.si
            else self.expected
        )
        hint = unit_hint(unit, self.si)
        if hint:
            raise Wrong(expected, hint)
        if result == "unknown":
            near = difflib.get_close_matches(unit, self.units, 1, 0.6) or difflib.get_close_matches(
                unit.lower(), self.units, 1, 0.6)  # fmt: skip
            raise Wrong(expected, near[0] if near else "")
        raise Wrong(expected, force_hint(unit) if self.si in ("N", "N*m") else "")

    def from_number(self, value: float) -> Measured:
        if not abs(value) <= LARGEST:
            raise Wrong("a finite number")
        return self._bounded(Measured(value, getattr(value, "tolerance", 0.0), self.si))

    def _bounded(self, value: Measured) -> Measured:
        if not self._within(value) or (self.whole and not value.is_integer()):
            raise Wrong(self.expected)
        return value

    def _within(self, value: float) -> bool:
        least, most = (value if bound is None else bound for bound in (self.least, self.most))
        return least <= value <= most and (self.above is None or value > self.above)

    def from_python(self, value: object) -> Measured:
        """Value in SI of a number (SI already), a text with unit, or a pint quantity."""
        if isinstance(value, str):
            return self.from_text(value)
        if hasattr(value, "to") and hasattr(value, "magnitude"):
            factor = self.factor(f"{value.units}") if f"{value.units}" != "dimensionless" else None  # type: ignore[attr-defined]
            if factor is None and self.si:
                raise Wrong(self.expected)
            return self.from_number(times(_real(value.magnitude, self.expected), factor or 1.0))
        return self.from_number(value if isinstance(value, Measured) else _real(value, self.expected))

    def from_file(self, value: object) -> Measured:
        """Value in SI of what stands in a file: text with a unit; a bare number only where the kind has no unit."""
        if isinstance(value, str):
            return self.from_text(value)
        if isinstance(value, int | float) and not isinstance(value, bool):
            if not self.si:
                return self.from_number(float(value))
            raise Wrong(self.expected, f'"{value} {self.units[0]}"' if math.isfinite(value) else "")
        raise Wrong(self.expected)

    def si_value(self, key: str, value: object) -> Measured:
        """from_python, with InputError naming ``key``."""
        try:
            return self.from_python(value)
        except Wrong as wrong:
            raise wrong.at(key, value) from None

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(told_to_pydantic(self.from_file))

    def __get_pydantic_json_schema__(self, schema: Any, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        if not self.si:
            plain = _PLAIN.fullmatch(self.example)
            return {"type": ["number", "string"], "examples": [json.loads(self.example) if plain else self.example]}
        examples = [self.example, f"0 {self.units[0]}"] if self.least == 0 else [self.example]
        return {"type": "string", "examples": examples, "x-si-unit": self.si}


@dataclass(frozen=True)
class VectorOf:
    """Several quantities of one kind: a list of texts, or one text where a number without a unit takes the next one's
    ("0, 0, 410 mm")."""

    kind: Kind
    size: int = 3

    @property
    def expected(self) -> str:
        kind = self.kind
        if not kind.si:
            return f"{self.size} numbers"
        unit = kind.units[0]
        zeros = ", ".join("0" for _ in range(self.size - 1))
        return f'{self.size} values with units, as "{zeros}, {kind.example}" or ["0 {unit}", ...]'

    def _items(self, value: object, one: Callable[[object], Measured]) -> tuple[Measured, ...]:
        if isinstance(value, str):
            parts = [part.strip() for part in value.strip().strip("[]()").split(",")]
            unit = ""
            for i in reversed(range(len(parts))):
                nominal, *rest = TOLERANCE.split(parts[i])
                match = QUANTITY.fullmatch(nominal)
                if match and match["unit"]:
                    unit = match["unit"]
                elif match and not rest:
                    parts[i] = f"{parts[i]} {unit}"
                elif rest and (shared := QUANTITY.fullmatch(rest[-1])) and shared["unit"] not in ("", "%"):
                    unit = shared["unit"]  # "0, 0, 410 ± 1 mm"
            value = parts
        if isinstance(value, dict | set | bytes) or not hasattr(value, "__iter__") or not hasattr(value, "__len__"):
            raise Wrong(self.expected)
        items: Sequence[object] = list(value)
        if len(items) != self.size:
            raise Wrong(self.expected)
        return tuple(one(item) for item in items)

    def from_file(self, value: object) -> tuple[Measured, ...]:
        return self._items(value, self.kind.from_file)

    def from_python(self, value: object) -> tuple[Measured, ...]:
        if hasattr(value, "to") and hasattr(value, "magnitude"):
            factor = self.kind.factor(f"{value.units}")  # type: ignore[attr-defined]
            return self._items(
                value.magnitude, lambda item: self.kind.from_number(times(_real(item, self.expected), factor))
            )
        return self._items(value, self.kind.from_python)

    def si_value(self, key: str, value: object) -> tuple[Measured, ...]:
        try:
            return self.from_python(value)
        except Wrong as wrong:
            raise wrong.at(key, value) from None

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(told_to_pydantic(self.from_file))

    def __get_pydantic_json_schema__(self, schema: Any, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        example = ", ".join("0" for _ in range(self.size - 1)) + ", " + self.kind.example
        items = {"type": "string" if self.kind.si else ["number", "string"]}
        listed = {"type": "array", "items": items, "minItems": self.size, "maxItems": self.size}
        unit = {"x-si-unit": self.kind.si} if self.kind.si else {}
        return {"anyOf": [{"type": "string"}, listed], "examples": [example], **unit}


def replace_bounds(kind: Kind, least: float | None = None, above: float | None = None) -> Kind:
    """The kind with other bounds."""
    return replace(kind, least=least, above=above)


def _real(value: object, expected: str) -> float:
    kind = getattr(getattr(value, "dtype", None), "kind", "f")
    if isinstance(value, bool | str | bytes | complex) or kind not in "fiu":
        raise Wrong(expected)
    try:
        return float(value)  # type: ignore[arg-type]
    except (TypeError, ValueError, OverflowError):
        raise Wrong(expected) from None


LENGTH = Kind(
    "a length", "m", ("mm", "m", "cm", "in", "ft", "metre", "meter", "millimetre", "millimeter", "inch"), "410 mm"
)
DISTANCE = replace(LENGTH, least=0.0)  # 0 or more
SIZE = replace(LENGTH, above=0.0)
MASS = Kind("a mass", "kg", ("kg", "g", "lb", "oz", "kilogram", "gram", "pound"), "6.2 kg", least=0.0)
ANGLE = Kind("an angle", "rad", ("deg", "rad", "arcmin", "turn", "degree", "degrees", "radian", "mrad"), "120 deg")
TILT = replace(ANGLE, least=0.0, most=math.pi)
TORQUE = Kind("a torque", "N*m", ("N*m", "mN*m", "kgf*cm", "lbf*ft", "lbf*in", "ozf*in"), "1.5 N*m", least=0.0)
FORCE = Kind("a force", "N", ("N", "kN", "kgf", "lbf", "newton"), "850 N", least=0.0)
INERTIA = Kind("a moment of inertia", "kg*m^2", ("kg*m^2", "kg*cm^2", "g*cm^2", "lb*in^2"), "0.12 kg*m^2")
ACCELERATION = Kind("an acceleration", "m/s^2", ("m/s^2", "mm/s^2", "ft/s^2"), "-9.80665 m/s^2")
NUMBER = Kind("a number", "", (), "1")
RATIO = replace(NUMBER, name="a ratio of input to output turns", example="101", above=0.0)
SHARE = replace(NUMBER, name="a share", example="85 %", above=0.0, most=1.0)

Length = Annotated[float, LENGTH]
Distance = Annotated[float, DISTANCE]
Size = Annotated[float, SIZE]
Mass = Annotated[float, MASS]
Angle = Annotated[float, ANGLE]
Tilt = Annotated[float, TILT]
Torque = Annotated[float, TORQUE]
Force = Annotated[float, FORCE]
InertiaMoment = Annotated[float, INERTIA]
Ratio = Annotated[float, RATIO]
Share = Annotated[float, SHARE]
Lengths = Annotated[tuple[float, ...], VectorOf(LENGTH)]
Sizes = Annotated[tuple[float, ...], VectorOf(SIZE)]
Angles = Annotated[tuple[float, ...], VectorOf(ANGLE)]
Accelerations = Annotated[tuple[float, ...], VectorOf(ACCELERATION)]
