"""Which designs are looked at."""

from __future__ import annotations

import numpy as np
import pytest

import armwright as aw
from armwright.designs.plan import FACTORIAL, HYPERCUBE, plan_of, unit_samples
from cases.described import positioner

CELL = aw.CellDescription(positioner(), tool=aw.Tool(mass=1.0))
FORE = "arm.links[forearm].mass"


def test_a_factorial_plan_is_every_combination_the_last_fastest() -> None:
    plan = plan_of(CELL, {FORE: [4.0, "3 kg"], "tool.mass": ["1 lb", 2]}, FACTORIAL, None, 0)
    pound = pytest.approx(0.45359237, rel=1e-14)
    assert [tuple(values.values()) for values in plan.values] == [(3, pound), (3, 2), (4, pound), (4, 2)]
    assert plan.dims == {FORE: 2, "tool.mass": 2} and plan.units == {FORE: "kg", "tool.mass": "kg"}
    assert plan.columns[FORE].tolist() == [3, 4]


def test_a_hypercube_is_one_dim_of_designs() -> None:
    plan = plan_of(CELL, {FORE: ("2 kg", 4), "tool.mass": (0, 1)}, HYPERCUBE, 8, 1)
    assert plan.dims == {"design": 8} and len(plan.values) == 8
    assert [values[FORE] for values in plan.values] == plan.columns[FORE].tolist()
    assert plan.columns[FORE].min() >= 2 and plan.columns[FORE].max() <= 4


def test_what_was_not_told_can_be_planned() -> None:
    plan = plan_of(CELL, {"arm.joints[axis 1].speed": ["90 deg/s", "180 deg/s"]}, FACTORIAL, None, 0)
    assert plan.columns["arm.joints[axis 1].speed"] == pytest.approx(np.radians([90, 180]))
    assert plan.units == {"arm.joints[axis 1].speed": "rad/s"}


@pytest.mark.parametrize("kind", [HYPERCUBE, "sobol"])
def test_samples_fill_the_unit_cube_by_their_seed(kind: str) -> None:
    points = unit_samples(kind, 2, 64, 3)
    assert points.shape == (64, 2) and points.min() >= 0 and points.max() < 1
    # Both put one point in each of 64 slices of each number: a (0, 6, 2)-net in base 2 does, and a latin hypercube.
    assert all(sorted(np.floor(64 * points[:, k])) == list(range(64)) for k in range(2))
    assert np.array_equal(points, unit_samples(kind, 2, 64, 3))
    assert not np.array_equal(points, unit_samples(kind, 2, 64, 4))
