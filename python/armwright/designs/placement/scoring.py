"""Scores many places at once, by the core."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache, partial
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from armwright import _core
from armwright.compile import target_specs
from armwright.describe import CellDescription, Target
from armwright.designs.placement.place import shifts_at, stand_pose
from armwright.designs.placement.zones import Zone, crossed, inside, prisms
from armwright.studies import run
from armwright.studies.check_targets import limit_for
from armwright.studies.cutting import Compute
from armwright.studies.pieces import Pieces
from armwright.studies.run import Arrays

if TYPE_CHECKING:
    from armwright.cell import Cell

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
MEASURES = ("limit_margin", "clearance", "payload")


class Scores(NamedTuple):
    """Places and what they score, a row each: ``numbers`` (n, 6), ``attitude`` codes; points ``served`` (-1: no place
    to stand), how much the others are ``lacking``, and the ``worst`` (n, 3, 3): of each measure, postures chosen by
    each; NaN where nothing is served."""

    numbers: Floats
    attitude: Ints
    served: Ints
    lacking: Floats
    worst: Floats

    def rows(self, which: Any) -> Scores:
        """Some of them."""
        return Scores(*(array[which] for array in self))

    def __add__(self, other: tuple[Any, ...]) -> Scores:
        return Scores(*(np.concatenate(pair) for pair in zip(self, other, strict=True)))


Score = Callable[[Floats, Ints], Scores]


@dataclass(frozen=True)
class Scoring:
    """What all places are scored by; goes to other processes as it is."""

    description: CellDescription
    targets: tuple[Target, ...]
    wanted: tuple[bool, bool, bool]
    limit: str
    margin: float
    centre: tuple[float, float, float] | None
    parked: bool
    zones: tuple[Zone, ...]
    going_along: tuple[str, ...]
    heights: tuple[float, float]

    def angle_step(self, most: int) -> float:
        """A step in rad over spins and tilts that makes about ``most`` attitudes of the freest work point, no more than
        60° and no less than 5°."""
        step = np.deg2rad(60.0)
        while step > np.deg2rad(5.0) and self._attitudes(0.8 * step) <= most:
            step *= 0.8
        return float(step)

    def _attitudes(self, step: float) -> float:
        def count(target: Target) -> float:
            rings = np.linspace(0, target.tilt, int(np.ceil(target.tilt / step)) + 1)[1:]
            cone = 1 + float((2 * np.pi * np.sin(rings) / step).sum())
            return cone * (2 * np.pi / step if target.free_spin else 1.0)

        return max(count(target) for target in self.targets)


@lru_cache(maxsize=4)
def _prepared(scoring: Scoring) -> tuple[Cell, _core.studies.PlaceSetup]:
    from armwright.cell import Cell

    cell = Cell.from_description(scoring.description)
    centre = None if scoring.centre is None else np.array(scoring.centre)
    specs = target_specs(scoring.description, scoring.targets, centre)
    track = scoring.description.track
    slide = 0.05 if track is None else min(0.06, max(0.02, (track.upper - track.lower) / 48))
    setup = _core.studies.make_place_setup(
        cell._inverse, [cell._solids_with(target.load) for target in scoring.targets], specs,
        prisms(scoring.zones, *scoring.heights), list(scoring.going_along), list(scoring.wanted),
        limit_for(cell._model, scoring.limit, specs), scoring.margin, run.turn_step, slide, scoring.parked,
    )  # fmt: skip
    return cell, setup


def prepare(scoring: Scoring) -> None:
    """Refuses what cannot be scored."""
    _prepared(scoring)


class Scorer:
    """Scores places, batch after batch, as pieces of one study."""

    def __init__(self, scoring: Scoring, work: Pieces, report: run.Report | None = None):
        self.scoring, self._work, self._report = scoring, work, report
        self._batches, self._done = 0, 0

    def with_attitudes(self, most: int, thorough: bool = False) -> Score:
        """Scores places with about so many attitudes of each point; ``thorough``: with a track at every step."""
        return partial(self.score, angle_step=self.scoring.angle_step(most), thorough=thorough)

    def score(self, numbers: Floats, attitude: Ints, angle_step: float, thorough: bool = False) -> Scores:
        """The scores of places."""
        rows = np.concatenate([numbers, attitude[:, None]], axis=1)
        given = (self.scoring, angle_step, thorough)
        told = self._work.run(self._phase(), prepare_scores, given, rows, self._told_on(len(rows)))
        self._done += len(rows)
        return Scores(numbers, attitude, told["served"], told["lacking"], told["worst"])

    def _phase(self) -> str:
        """A word for each batch, the same ones in every run: batch_a, batch_b ... batch_ba."""
        count, word = self._batches, ""
        self._batches += 1
        while count or not word:
            count, letter = divmod(count, 26)
            word = chr(ord("a") + letter) + word
        return f"batch_{word}"

    def _told_on(self, count: int) -> run.Report | None:
        """What a batch reports to: how many places are done of those known of so far."""
        report, before = self._report, self._done
        if report is None:
            return None
        return lambda done, total: report(before + count * done // max(total, 1), before + count)


def prepare_scores(scoring: Scoring, angle_step: float, thorough: bool) -> Compute:
    """What scores a piece of places: rows of six numbers and an attitude."""
    _, setup = _prepared(scoring)

    def compute(rows: Floats, threads: int, report: run.Report | None) -> Arrays:
        numbers, attitude = rows[:, :6], rows[:, 6].astype(np.int64)
        shifts = shifts_at(stand_pose(scoring.description), numbers, attitude)
        allowed = ~_forbidden(scoring, shifts)
        served = np.full(len(rows), -1)
        lacking = np.full(len(rows), 4.0 * len(scoring.targets))
        worst = np.full((len(rows), 3, 3), np.nan)
        if allowed.any():
            told = _core.studies.score_places(
                setup, shifts[allowed], np.nan_to_num(numbers[allowed, 5]), angle_step, thorough, threads, report
            )
            run.finished(len(told[0]) == np.count_nonzero(allowed))
            served[allowed], worst[allowed] = told[0], told[2]
            lacking[allowed] = np.where(told[0] < 0, lacking[allowed], told[1])
        return {"served": served, "lacking": lacking, "worst": worst}

    return compute


def _forbidden(scoring: Scoring, shifts: Floats) -> NDArray[np.bool_]:
    """Whether the base's origin, or any place of it on the track, is in a zone."""
    if not scoring.zones or scoring.parked:
        return np.zeros(len(shifts), dtype=bool)
    told = scoring.description
    first = told.mount if told.track is None else told.track.pose @ told.mount
    at = np.array([first[:3, 3]])
    if told.track is None:
        return inside(scoring.zones, (shifts @ np.append(at[0], 1.0))[:, :2])
    along = told.track.pose[:3, :3] @ told.track.axis
    ends = [at[0] + track * along for track in (told.track.lower, told.track.upper)]
    return crossed(scoring.zones, *((shifts @ np.append(end, 1.0))[:, :2] for end in ends))
