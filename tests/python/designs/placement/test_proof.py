from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import armwright as aw
from armwright.designs.placement.proof import Aim, prove
from armwright.designs.placement.scoring import Scoring
from cases.described import positioner
from cases.designs import held_at, level_cell


def scoring(cell: aw.Cell) -> Scoring:
    return Scoring(
        cell.description, cell.targets, (True, False, True), "continuous", 0.0, None, False, (), (), (0.0, 0.0)
    )


def test_what_a_place_holds_by_the_law_of_cosines() -> None:
    """The level cell pushed 0.1 m back and 0.05 m ahead: its points come to be 1.1 m less a hair and 1.0 m, 0.95 and
    0.85 m out."""
    cell = level_cell()
    aims = [Aim("payload spare", "kg", "more", 2), Aim("limit margin", "1", "more", 0)]
    told = scoring(cell)
    for back in (0.05, -0.05):
        proof = prove(cell, told, aims, 2, (np.array([-back, 0, 0, 0, 0, np.nan]), 0))
        assert proof.served.all() and proof.count == 2
        assert proof.worst[0] == pytest.approx(held_at(1.0 + back) - 2.0, abs=1e-9)
        assert proof.worst_at[0] == "far"
        assert proof.pose[:3, 3] == pytest.approx([-back, 0, 0])
    now = prove(cell, told, aims, 2, None)
    assert now.worst[0] == pytest.approx(held_at(1.0) - 2.0, abs=1e-9)


def test_the_worst_is_that_of_the_points_served() -> None:
    """A third point farther out that asks for too much does not count, nor does the first, which is not the worst."""
    cell = level_cell()
    told = [*cell.targets[::-1], aw.Target.pointing((1.05, 0, 0), "x", "too much", load=aw.Load(50.0))]
    aims = [Aim("payload spare", "kg", "more", 2), Aim("limit margin", "1", "more", 0)]
    more = aw.Cell.from_description(replace(cell.description, targets=tuple(told)))
    proof = prove(more, scoring(more), aims, 2, None)
    assert proof.served.tolist() == [True, True, False] and proof.worst_at[0] == "far"
    assert proof.worst[0] == pytest.approx(held_at(1.0) - 2.0, abs=1e-9)
    assert proof.measures[2, 2] < 0


def test_answers_and_what_is_not_served() -> None:
    far = aw.Cell(positioner(), targets=aw.Target.pointing((3, 0, 0), "down", "far"))
    answer = aw.ask.limit_margin("far")
    aims = [Aim("limit margin", "1", "more", 0), Aim(answer.name, "1", "more", -1, answer)]
    proof = prove(far, scoring(far), aims, 0, None)
    assert proof.count == 0 and np.isnan(proof.worst).all()
    assert proof.worst_at[0] == "" and "far" in proof.worst_at[1]


def test_greater_is_better_either_way_and_rounding_does_not_count() -> None:
    more, less = Aim("limit margin", "1", "more", 0), Aim("time", "s", "less", -1, aw.ask.served())
    assert more.greater(np.array([0.2, 0.20000001, np.inf, np.nan])) == pytest.approx(
        [0.2, 0.2, np.inf, np.nan], nan_ok=True
    )
    told = less.greater(np.array([10.0, 10.000001, 8.0]))
    assert told[0] == told[1] < told[2]
