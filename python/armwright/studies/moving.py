"""What is asked of an arm in motion, checked and handed to the core."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from armwright import _core
from armwright.errors import InputError
from armwright.studies.run import Floats

Codes = NDArray[np.int32] | NDArray[np.int64]

# The core's codes, from 0 up.
LIMITS = ("stated torque", "motor torque", "stage torque", "motor speed", "stage speed", "joint acceleration",
          "singular posture")  # fmt: skip
DEMANDS = ("rest", "tool acceleration", "joint acceleration", "joint speed")


@dataclass(frozen=True)
class Motion:
    """What is asked; None for what is not. Accelerations m/s² and rad/s²; shares of each joint's own limits;
    ``gyration``: radii of gyration of the load about its centre, along the tool frame's axes, m."""

    tool_acceleration: float | None = None
    turn_acceleration: float | None = None
    joint_acceleration: float | None = None
    speed_share: float | None = None
    gyration: tuple[float, float, float] = (0.0, 0.0, 0.0)

    def __post_init__(self) -> None:
        asked = (self.tool_acceleration, self.turn_acceleration, self.joint_acceleration, self.speed_share)
        if all(each is None for each in asked):
            raise InputError.of(
                "tool_acceleration, turn_acceleration, joint_acceleration, speed_share", "none", "at least one of them"
            )

    @property
    def terms(self) -> dict[str, float]:
        """What is asked, as attributes of a result; 0 for what is not."""
        return {
            "tool_acceleration": self.tool_acceleration or 0.0,
            "turn_acceleration": self.turn_acceleration or 0.0,
            "joint_acceleration_share": self.joint_acceleration or 0.0,
            "speed_share": self.speed_share or 0.0,
        }


def unit_load(centre: Floats, gyration: tuple[float, float, float]) -> _core.model.Inertia:
    """A load of 1 kg in the tool frame."""
    return _core.model.Inertia(1.0, centre, np.diag(np.square(gyration)))


def prepare(model: _core.model.Model, centre: Floats, motion: Motion) -> _core.limits.MovingSetup:
    """The core's setup; refused where a joint has no limit to take a share of, or where the speeds are more than a
    motor or stage may turn at."""
    accelerations = _shares(model, "joint_acceleration", motion.joint_acceleration, np.array(model.acceleration))
    own = np.array(model.speed)
    if not _coupled(model):  # a joint that states no speed goes as fast as its drive
        own = np.where(np.isfinite(own), own, _core.limits.greatest_axis_speeds(model))
    speeds = _shares(model, "speed_share", motion.speed_share, own)
    setup = _core.limits.prepare_moving(
        model, unit_load(centre, motion.gyration), motion.tool_acceleration or 0.0, motion.turn_acceleration or 0.0,
        accelerations, speeds,
    )  # fmt: skip
    if motion.turn_acceleration and not setup.moves_tool_all_ways:
        raise InputError.of(
            "turn_acceleration", f"{motion.turn_acceleration:g} rad/s²",
            "none: this arm cannot turn its tool all ways",
        )  # fmt: skip
    share, axis, part = setup.greatest_speed_share
    if share < 1 and motion.speed_share:
        most = np.floor(share * motion.speed_share * 1e4) / 1e4
        raise InputError.of(
            "speed_share",
            f"{motion.speed_share:g}, at which '{part}' of {model.joint_names[axis]} turns faster than it may",
            f"at most {most:g}",
        )
    return setup


def _coupled(model: _core.model.Model) -> bool:
    return bool(model.is_coupled)


def _shares(model: _core.model.Model, key: str, share: float | None, own: Floats) -> Floats:
    """That share of every joint's own limit; 0 of joints that have no way to go."""
    moves = np.array(model.upper) > np.array(model.lower)
    if not share:
        return np.zeros(len(moves))
    told = zip(model.joint_names, moves, own, strict=True)
    unknown = [name for name, free, limit in told if free and limit == np.inf]
    if unknown:
        what = "acceleration" if key == "joint_acceleration" else "speed"
        raise InputError.of(key, f"{share:g}, but {', '.join(unknown)} states no greatest {what}",
                            f"a greatest {what} of every joint")  # fmt: skip
    return np.where(moves, share * np.where(moves, own, 0.0), 0.0)


def name_parts(setup: _core.limits.MovingSetup) -> tuple[list[str], Callable[[Codes, Codes], Codes]]:
    """All parts that limits may name, each name once; and what turns arrays of axes and part codes into places there,
    -1 for none."""
    names: list[str] = []
    for axis in setup.part_names:
        names += [name for name in axis if name and name not in names]
    table = np.full((len(setup.part_names), 2 + max(len(axis) for axis in setup.part_names)), -1)
    for k, axis in enumerate(setup.part_names):
        for place, name in enumerate(axis):
            table[k, place] = names.index(name) if name else -1

    def place_of(axes: Codes, parts: Codes) -> Codes:
        known = (axes >= 0) & (parts >= -2)
        return np.where(known, table[np.where(known, axes, 0), np.where(known, parts + 2, 0)], -1)

    return names, place_of
