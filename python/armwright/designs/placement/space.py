"""The places that are allowed: each number fixed or within bounds, some attitudes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from armwright import arguments
from armwright.describe import CellDescription
from armwright.describe.units import ANGLE, LENGTH, Kind, VectorOf
from armwright.designs.placement.place import ATTITUDES, NUMBERS, attitude_of, numbers_of, stand_pose
from armwright.errors import InputError

Floats = NDArray[np.float64]
_KINDS = {name: ANGLE if name in ("yaw", "turn") else LENGTH for name in NUMBERS}


@dataclass(frozen=True)
class Space:
    """Bounds of the six numbers (NaN: does not apply), and codes of the attitudes."""

    lower: Floats
    upper: Floats
    attitudes: tuple[int, ...]

    @property
    def free(self) -> NDArray[np.int64]:
        """Places of the numbers that may be chosen."""
        return np.flatnonzero(self.upper > self.lower)

    @property
    def parked(self) -> bool:
        """Whether an arm is parked on its track."""
        return not math.isnan(self.lower[5])

    def within(self, numbers: Floats) -> Floats:
        """The numbers (n, 6) brought into the bounds; where all directions are allowed, by whole turns."""
        out = numbers.copy()
        for k in (3, 4):
            if self.upper[k] - self.lower[k] >= 2 * np.pi - 1e-12:
                out[:, k] = self.lower[k] + np.mod(out[:, k] - self.lower[k], 2 * np.pi)
        return np.where(np.isnan(self.lower), out, np.clip(out, self.lower, self.upper))

    def has(self, numbers: Floats, attitude: int) -> bool:
        """Whether a place is allowed."""
        near = np.abs(self.within(numbers[None])[0] - numbers) < 1e-9
        return attitude in self.attitudes and bool((near | np.isnan(numbers)).all())


def take_space(cell: CellDescription, told: dict[str, Any], attitudes: Any) -> Space:
    """The places that were asked for. ``told``: of each number None (as it is now), a value, or two bounds."""
    pose = stand_pose(cell)
    now, own = numbers_of(pose), attitude_of(pose[:3, :3])
    lower, upper = now.copy(), now.copy()
    parked = told["track"] is not None
    if parked:
        _check_parked(cell, told, attitudes)
    for k, name in enumerate(NUMBERS):
        if told[name] is not None:
            lower[k], upper[k] = _bounds(name, told[name], _KINDS[name])
    if parked and cell.track is not None and (lower[5] < cell.track.lower or upper[5] > cell.track.upper):
        raise InputError.of("track", f"{lower[5]:g} m to {upper[5]:g} m",
                            f"within the stroke, {cell.track.lower:g} m to {cell.track.upper:g} m")  # fmt: skip
    words = _attitudes(attitudes, own)
    if told["turn"] is not None and "wall" not in words:
        raise InputError.of("turn", repr(told["turn"]), "nothing: on floor and ceiling yaw turns the base already")
    space = Space(lower, upper, tuple(ATTITUDES.index(word) for word in words))
    if not len(space.free) and len(words) == 1:
        raise InputError.of("placement", "nothing to be chosen", "bounds for one of x, y, z, yaw or track, as "
                            "\"-1 m, 1 m\", or several attitudes")  # fmt: skip
    return space


def _check_parked(cell: CellDescription, told: dict[str, Any], attitudes: Any) -> None:
    if cell.track is None:
        raise InputError.of("track", repr(told["track"]), "nothing: the cell has no track")
    also = [name for name in NUMBERS[:5] if told[name] is not None] + (["attitudes"] if attitudes is not None else [])
    if also:
        raise InputError.of("track", f"a position to park at, besides {also[0]}",
                            "one of the two: where the track stands, or where the arm parks on it")  # fmt: skip


def _attitudes(value: Any, own: str) -> tuple[str, ...]:
    if value is None:
        return (own,)
    known = {word.replace("_", " "): word for word in ATTITUDES} | {word: word for word in ATTITUDES}
    items = [value] if isinstance(value, str) or not hasattr(value, "__iter__") else list(value)
    words = tuple(dict.fromkeys(arguments.choice("attitudes", item, known) for item in items))
    if not words:
        raise InputError.of("attitudes", "none", "some of floor, wall, ceiling")
    return tuple(dict.fromkeys(own if word == "as_it_stands" else word for word in words))


def _bounds(name: str, value: Any, kind: Kind) -> tuple[float, float]:
    if name in ("yaw", "turn") and isinstance(value, str) and value.strip() == "any":
        return -math.pi, math.pi
    plain = "," not in value if isinstance(value, str) else not isinstance(value, list | tuple) and (
        np.ndim(getattr(value, "magnitude", value)) == 0
    )  # fmt: skip
    if plain:
        try:
            one = float(kind.si_value(name, value))
        except InputError as error:
            both = ', or any' if name in ("yaw", "turn") else ""
            words = f"{error.problems[0].expected}, two of them to search between{both}"
            raise InputError.of(name, error.problems[0].value, words, error.problems[0].meant) from None
        return one, one
    low, high = (float(each) for each in VectorOf(kind, 2).si_value(name, value))
    if low > high:
        raise InputError.of(name, f"{low:g} to {high:g} {kind.si}", "a lower bound, then an upper one")
    if kind is ANGLE and high - low > 2 * math.pi + 1e-9:
        raise InputError.of(name, f"{math.degrees(high - low):g}°", "at most a whole turn between the bounds")
    return low, high
