"""A place checked at full accuracy: the cell that stands there, asked as any other cell is."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright import _core
from armwright.designs.answer import Answer
from armwright.designs.placement.place import ATTITUDES, placed, stand_pose
from armwright.designs.placement.scoring import MEASURES, Scoring

if TYPE_CHECKING:
    from armwright.cell import Cell

Floats = NDArray[np.float64]
_TOLD_TO = (1e-4, 1e-5, 1e-3)  # limit margin, m, kg: places that differ by less are equal
_MERITS = {"limit_margin": "limit_margin", "clearance": "clearance_spare", "payload": "payload"}


class Aim(NamedTuple):
    """What places are chosen by: a measure of postures, the worst over the points; or an answer of the cell."""

    name: str
    unit: str
    better: str
    measure: int = -1
    answer: Answer | None = None

    def greater(self, values: Floats) -> Floats:
        """Values that are to be as great as can be, without digits that are rounding."""
        finite = np.abs(values[np.isfinite(values)])
        step = _TOLD_TO[self.measure] if self.measure >= 0 else 1e-6 * float(finite.max(initial=0.0)) or 1.0
        return np.asarray(np.round(values / step) * step * (1 if self.better == "more" else -1))


@dataclass(frozen=True, eq=False)
class Proof:
    """What the check of a place says: a number for each aim, and each work point's row."""

    pose: Floats
    served: NDArray[np.bool_]
    worst: Floats
    worst_at: list[str]
    checked: xr.Dataset
    measures: Floats  # (targets, 3)

    @property
    def count(self) -> int:
        """Points served."""
        return int(self.served.sum())


def prove(
    cell: Cell, scoring: Scoring, aims: Sequence[Aim], first: int, place: tuple[Floats, int] | None,
    threads: int | None = None,
) -> Proof:  # fmt: skip
    """Checks a place; ``first``: the measure that postures are chosen by. ``place`` None: where the cell stands."""
    here = cell if place is None else placed(cell, place[0], ATTITUDES[place[1]], scoring.going_along)
    checked = here.check_targets(
        scoring.targets, margin=scoring.margin, limit=scoring.limit, threads=threads,  # type: ignore[arg-type]
        centre=scoring.centre, order=_MERITS[MEASURES[first]],
    )  # fmt: skip
    q = checked.q.values
    measures = np.stack([
        checked.limit_margin.values, _spare(here, scoring, q), checked.payload.values - checked.payload_wanted.values,
    ], axis=1)  # fmt: skip
    served = checked.served.values
    worst, at = [], []
    for aim in aims:
        if aim.answer is not None:
            told = aim.answer.ask(here)
            worst.append(told.value)
            at.append(told.where or told.reason)
        elif served.any():
            row = int(np.argmin(np.where(served, measures[:, aim.measure], math.inf)))
            row = row if served[row] else int(np.flatnonzero(served)[0])
            worst.append(float(measures[row, aim.measure]))
            at.append(scoring.targets[row].name)
        else:
            worst.append(math.nan)
            at.append("")
    pose = here.description.mount if scoring.parked else stand_pose(here.description)
    return Proof(np.array(pose), served, np.array(worst), at, checked, measures)


def _spare(cell: Cell, scoring: Scoring, q: Floats) -> Floats:
    """Clearance in each posture beyond what is to be kept."""
    found = np.full(len(q), np.nan)
    for i, target in enumerate(scoring.targets):
        if not np.isnan(q[i]).any():
            scene = _core.clearance.spare_scene(cell._solids_with(target.load), scoring.margin)
            found[i] = _core.clearance.least_distances(scene, cell._model, q[i : i + 1])[0][0]
    return found
