"""What a placement is asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from armwright import arguments
from armwright.describe import CellDescription
from armwright.describe.wrong import shown
from armwright.designs.answer import Answer
from armwright.designs.placement.proof import Aim
from armwright.designs.placement.scoring import Scores, Scoring
from armwright.designs.placement.space import Space, take_space
from armwright.designs.placement.zones import take_zones
from armwright.errors import InputError
from armwright.studies import run
from armwright.studies.check_targets import need_targets
from armwright.studies.pieces import How

if TYPE_CHECKING:
    from armwright.cell import Cell

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

@dataclass(frozen=True)
class Job:
    """What was asked."""

    cell: Cell
    space: Space
    scoring: Scoring
    aims: tuple[Aim, ...]
    samples: int
    spacing: float | None
    seed: int
    how: How

    @property
    def measures(self) -> list[int]:
        """The measures that postures are chosen by, the first aim's first."""
        told = [aim.measure for aim in self.aims if aim.measure >= 0]
        return told or [0]


class Choice(NamedTuple):
    """A place, the measure that postures are chosen by there, and what it scores, one row."""

    numbers: Floats
    attitude: int
    measure: int
    scored: Scores


def take_job(cell: Cell, told: dict[str, Any]) -> Job:
    """What Cell.placement was asked, checked. ``told``: its options by name."""
    described = cell.description
    space = take_space(described, told, told["attitudes"])
    chosen = described.targets
    if told["targets"] is not None:
        chosen = CellDescription(described.arm, targets=told["targets"]).targets
    need_targets(chosen)
    aims = _aims(told["aims"], cell)
    measures = {aim.measure for aim in aims if aim.measure >= 0} or {0}
    centre = None
    if told["centre"] is not None:
        x, y, z = (float(value) for value in arguments.position("centre", told["centre"]))
        centre = x, y, z
    zones = take_zones(told["forbidden"])
    if zones and space.parked:
        raise InputError.of("forbidden", f"{len(zones)} zones", "none: a parked arm stays on its track")
    run.core_limit(told["limit"])
    scoring = Scoring(
        described, chosen, (0 in measures, 1 in measures, 2 in measures), told["limit"],
        arguments.length("margin", told["margin"], zero=True), centre, space.parked, zones,
        _going_along(told["going_along"], described, space.parked),
        (float(space.lower[2]), float(space.upper[2])),
    )  # fmt: skip
    return Job(
        cell, space, scoring, aims, run.whole("samples", told["samples"], 1, 1_000_000),
        arguments.length_or_none("spacing", told["spacing"]), run.whole("seed", told["seed"], 0, 2**32 - 1),
        How(told["executor"], told["store"], told["threads"], told["progress"]),
    )  # fmt: skip


_MEASURES = {
    "limit_margin": ("limit margin", "1"), "clearance": ("clearance spare", "m"), "payload": ("payload spare", "kg"),
}  # fmt: skip


def _aims(told: Any, cell: Cell) -> tuple[Aim, ...]:
    if isinstance(told, str | Answer):
        told = [told]
    if not hasattr(told, "__iter__") or isinstance(told, Mapping):
        raise InputError.of("aims", shown(told), "some of limit_margin, clearance, payload, or Answers")
    aims = []
    for i, item in enumerate(told):
        if isinstance(item, Answer):
            bound = item.bound_to(cell)
            aims.append(Aim(bound.name, bound.unit, bound.better, -1, bound))
        else:
            name, unit = arguments.choice(f"aims[{i}]", item, _MEASURES)
            aims.append(Aim(name, unit, "more", list(_MEASURES).index(item)))
    if not aims:
        raise InputError.of("aims", "none", "at least one")
    arguments.named_once("aims", [aim.name for aim in aims])
    _check_limited(aims, cell)
    return tuple(aims)


def _check_limited(aims: list[Aim], cell: Cell) -> None:
    """A payload without torque limits is infinite everywhere, which nothing can be chosen by."""
    limits = cell.limits
    if any(aim.measure == 2 for aim in aims) and not np.isfinite([limits.torque_continuous, limits.torque_peak]).any():
        raise InputError.of("aims", '"payload", and no joint has a torque limit', "an arm with torque limits, or "
                            "another aim")  # fmt: skip


def _going_along(told: Any, cell: CellDescription, parked: bool) -> tuple[str, ...]:
    names = (told,) if isinstance(told, str) else tuple(told)
    if names and parked:
        raise InputError.of("going_along", ", ".join(map(str, names)), "none: a parked arm moves along its track")
    known = {shape.name: shape for shape in cell.fixtures}
    for name in names:
        shape = arguments.choice("going_along", name, known)
        if type(shape).__name__ == "HalfSpace":
            raise InputError.of("going_along", f"{name}, a half-space", "a solid of finite size")
    return tuple(dict.fromkeys(names))


