"""What places score is what the check of the cell placed there says: in every attitude, with fixtures and loads."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.designs.placement.place import ATTITUDES, numbers_of, placed
from armwright.designs.placement.scoring import Scorer, Scores, Scoring
from armwright.designs.placement.zones import Zone, take_zones
from armwright.studies.pieces import Pieces
from cases.described import at, facing, positioner, track_cell

RNG = np.random.default_rng(9)
MERITS = ("limit_margin", "clearance_spare", "payload")


def scoring(cell: aw.Cell, zones: tuple[Zone, ...] = (), **more: Any) -> Scoring:
    told: dict[str, Any] = {
        "wanted": (True, True, True), "limit": "continuous", "margin": 0.004, "centre": None, "parked": False,
        "zones": zones, "going_along": (), "heights": (-1.0, 1.0),
    }  # fmt: skip
    return Scoring(cell.description, cell.targets, **(told | more))


def score(told: Scoring, numbers: Any, attitude: Any, step: float) -> Scores:
    return Scorer(told, Pieces(None, None, 1)).score(numbers, attitude, step)


def points(count: int) -> list[aw.Target]:
    """Attitudes told in full, so that search and check try the same."""
    return [
        aw.Target(
            at(RNG.uniform(-0.6, 0.6, 3), facing(RNG.normal(size=3), RNG.normal(size=3))), f"point {i}",
            load=aw.Load(RNG.uniform(0.5, 6)),
        )
        for i in range(count)
    ]  # fmt: skip


def agree(cell: aw.Cell, scored: Any, row: int, there: aw.Cell) -> int:
    for m, merit in enumerate(MERITS):
        check = there.check_targets(margin=0.004, order=merit)
        served = check.served.values
        assert scored.served[row] == served.sum()
        if served.any():
            own = (check.limit_margin, None, check.payload - check.payload_wanted)[m]
            if own is not None:
                assert scored.worst[row, m, m] == pytest.approx(own.values[served].min(), abs=1e-9)
        else:
            assert np.isnan(scored.worst[row]).all()
    return int(served.sum())


def test_floor_wall_and_ceiling() -> None:
    arm = positioner(axis_1=(-2.2, 2.2), axis_2=(-0.5, 2.5), axis_5=(-2, 2))
    post = aw.Box((0.15, 0.15, 1.6), (0.35, 0.3, 0), "post", clearance="12 mm")
    cell = aw.Cell(arm, fixtures=post, targets=points(6), load=aw.Load(1.0), mount=(0.1, 0.1, 0))
    numbers = np.column_stack([RNG.uniform(-0.5, 0.5, (24, 3)), RNG.uniform(-3, 3, (24, 2)), np.full(24, np.nan)])
    attitude = np.arange(24) % 3
    scored = score(scoring(cell), numbers, attitude, 0.3)
    counts = [agree(cell, scored, i, placed(cell, numbers[i], ATTITUDES[attitude[i]])) for i in range(24)]
    assert min(counts) < max(counts) and sum(count > 0 for count in counts) > 10


def test_a_track_moved_and_an_arm_parked() -> None:
    cell = track_cell(targets=points(5), track=aw.Track("x", (0, 0.5), (0, 0, 0.18)))
    own = numbers_of(np.asarray(cell.track.pose))  # type: ignore[union-attr]
    parked = np.tile(own, (5, 1))
    parked[:, 5] = np.linspace(0, 0.5, 5)
    scored = score(scoring(cell, parked=True), parked, np.zeros(5, np.int64), 0.3)
    counts = [agree(cell, scored, i, placed(cell, parked[i], "floor")) for i in range(5)]
    assert max(counts) > 0
    moved = np.tile(own, (4, 1))
    moved[:, 1] = [-0.3, 0, 0.2, 0.4]
    whole = score(scoring(cell, wanted=(True, False, False)), moved, np.zeros(4, np.int64), 0.3)
    for i in range(4):  # the check tries the track in finer steps
        there = placed(cell, moved[i], "floor").check_targets(margin=0.004, order="limit_margin")
        assert whole.served[i] <= int(there.served.sum())
        if whole.served[i] == int(there.served.sum()) > 0:
            assert whole.worst[i, 0, 0] <= there.limit_margin.values[there.served.values].min() + 1e-9


def test_zones_count_for_all_of_a_track() -> None:
    cell = track_cell(targets=points(1))
    own = numbers_of(np.asarray(cell.track.pose))  # type: ignore[union-attr]
    numbers = np.tile(own, (3, 1))
    numbers[:, 1] = [0.0, 0.5, -0.5]
    zones = take_zones({"hatch": ((0.4, -0.1), (0.5, 0.1))})  # half-way along
    scored = score(scoring(cell, zones), numbers, np.zeros(3, np.int64), 0.5)
    assert (scored.served < 0).tolist() == [True, False, False]


def test_angle_steps_make_about_as_many_attitudes_as_are_asked() -> None:
    cell = aw.Cell(positioner())
    free = aw.Target.pointing((0.5, 0, 0), "down", "free")
    cone = replace(free, name="cone", tilt=0.5)
    assert np.rad2deg(scoring(cell).__class__(**{**vars(scoring(cell)), "targets": (free,)}).angle_step(24)) < 25
    for most in (24, 160):
        told = Scoring(**{**vars(scoring(cell)), "targets": (free, cone)})
        step = told.angle_step(most)
        assert told._attitudes(step) <= most or step == pytest.approx(np.deg2rad(60))
        assert told._attitudes(0.8 * step) > most or step < np.deg2rad(5)
