"""Placement on cases whose best place is known beforehand, by symmetry or in closed form; nothing of the program is
used to find it."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

import armwright as aw
from cases.described import at, facing, positioner

FREE = (-math.inf, math.inf)
UPPER, FORE = 0.6, 0.5


def arm(**ranges: Any) -> aw.ArmDescription:
    """The positioner, its axes without limits but for those told."""
    return positioner(**({f"axis_{i}": FREE for i in range(1, 7)} | ranges))


def points(positions: Any, direction: Any = "down") -> list[aw.Target]:
    return [aw.Target.pointing(tuple(p), direction, f"point {i + 1}") for i, p in enumerate(positions)]


def elbow_margin(distance: float, lower: float = -3.0, upper: float = 0.0) -> float:
    """Of the elbow's range with the wrist that far from axis 2, by the law of cosines, elbow up."""
    bend = -math.acos((distance**2 - UPPER**2 - FORE**2) / (2 * UPPER * FORE))
    return 1 - abs(bend - (lower + upper) / 2) / ((upper - lower) / 2)


@pytest.mark.parametrize("aim", ["payload", "limit_margin"])
def test_points_on_a_circle_are_best_served_from_its_centre(aim: str) -> None:
    """Seven points 0.95 m from (0.3, −0.2). An arm turns about its upright axis as it likes, so that only the distance
    of a point counts, and from 0.95 m out what it holds and its elbow's margin fall; anywhere but at the centre some
    point is farther away (the circle is the least one about the points)."""
    centre, around = np.array([0.3, -0.2]), 0.4 + 2 * np.pi * np.arange(7) / 7
    rim = [(*(centre + 0.95 * np.array([np.cos(a), np.sin(a)])), 0.0) for a in around]
    cell = aw.Cell(arm(axis_3=(-3.0, 0.0)), targets=points(rim), load=aw.Load("1 kg"), mount=(0.9, 0.4, 0))
    found = cell.placement(x=(-1, 1.4), y=(-1, 1), aims=aim, samples=1500)
    assert (float(found.place_x[0]), float(found.place_y[0])) == pytest.approx(tuple(centre), abs=1e-3)
    assert int(found.served_count[0]) == 7
    if aim == "limit_margin":
        assert float(found.worst[0, 0]) == pytest.approx(elbow_margin(0.95), abs=2e-3)


def test_points_on_a_line_are_best_served_from_opposite_its_middle() -> None:
    """The base slides along y = 0, the points lie from −0.5 to 0.7 m along y = 0.75: from x = 0.1 m the farthest two
    are equally far, and from anywhere else one of them is farther."""
    line = [(x, 0.75, 0.0) for x in np.linspace(-0.5, 0.7, 6)]
    cell = aw.Cell(arm(), targets=points(line), load=aw.Load("1 kg"))
    found = cell.placement(x=(-1, 1), aims="payload", samples=200)
    assert float(found.place_x[0]) == pytest.approx(0.1, abs=1e-3)


def test_two_points_from_where_the_elbow_is_at_mid_range_for_both() -> None:
    """Only the elbow has limits, −3 to 0 rad: at mid-range the wrist is d = sqrt(a² + b² + 2 a b cos 1.5) from axis 2.
    For points at x = ±0.35 m that is so from two places in plan, x = 0 and y = ±sqrt(d² − 0.35²), with margin 1."""
    d = math.sqrt(UPPER**2 + FORE**2 + 2 * UPPER * FORE * math.cos(1.5))
    cell = aw.Cell(arm(axis_3=(-3.0, 0.0)), targets=points([(-0.35, 0, 0), (0.35, 0, 0)]))
    found = cell.placement(x=(-0.9, 0.8), y=(-1, 0.9), samples=1500)
    assert float(found.worst[0, 0]) == pytest.approx(1.0, abs=2e-3)
    assert float(found.place_x[0]) == pytest.approx(0.0, abs=2e-3)
    assert abs(float(found.place_y[0])) == pytest.approx(math.sqrt(d**2 - 0.35**2), abs=2e-3)


def test_yaw_puts_the_points_in_the_middle_of_axis_1() -> None:
    """Only axis 1 has limits, ±100°; points 20° to 80° round: facing 50° (or away from it, reaching over its back),
    with a margin of 1 − 30/100 at both ends."""
    fan = [(0.8 * math.cos(math.radians(a)), 0.8 * math.sin(math.radians(a)), 0.1) for a in (20, 35, 60, 80)]
    cell = aw.Cell(arm(axis_1=(-math.radians(100), math.radians(100))), targets=points(fan))
    found = cell.placement(yaw="any", samples=100)
    assert math.degrees(float(found.place_yaw[0])) % 180 == pytest.approx(50, abs=0.05)
    assert float(found.worst[0, 0]) == pytest.approx(0.7, abs=1e-3)


def test_height_halves_the_way_between_two_points() -> None:
    """One at 0.2 and one at 0.9 m, both 0.85 m ahead: from 0.55 m the farther is nearest, and the elbow's margin falls
    with the distance there."""
    cell = aw.Cell(arm(axis_3=(-3.0, 0.0)), targets=points([(0.85, 0, 0.2), (0.85, 0, 0.9)]))
    found = cell.placement(z=(0, 1.2), samples=100)
    assert float(found.place_z[0]) == pytest.approx(0.55, abs=1e-3)
    assert float(found.worst[0, 0]) == pytest.approx(elbow_margin(math.hypot(0.85, 0.35)), abs=1e-3)


def test_a_ceiling_mount_is_the_floor_mount_upside_down() -> None:
    """Points told upside down about z = 0.6 m are served by a hanging arm as the others are by a standing one, at the
    mirrored height; gravity pulls the other way along the arm, so that limits alone count. The mirror image across the
    plane turns the arm's left and right about: half a turn about x instead keeps them, y becoming −y."""
    spots = [(0.6, 0.3, 0.25), (0.7, -0.2, 0.4), (0.4, 0.5, 0.1)]
    tilted = facing((0, 0.2, -1), (1, 0.1, 0))
    described = replace(
        arm(axis_1=(-1.5, 2.0), axis_2=(0, 2.2), axis_3=(-2.8, 0), axis_5=(-2, 2)),
        links=tuple(aw.Link(f"link {i}") for i in range(1, 7)),
    )
    upright = [aw.Target(at(p, tilted), f"point {i}") for i, p in enumerate(spots)]
    over = np.diag([1.0, -1.0, -1.0, 1.0])
    over[2, 3] = 1.2
    hung = [aw.Target(over @ target.pose, target.name) for target in upright]
    ranges: dict[str, Any] = {"x": (-0.4, 0.4), "y": (-0.4, 0.4), "yaw": (-1, 1), "samples": 1500}
    stands = aw.Cell(described, targets=upright).placement(**ranges)
    hangs = aw.Cell(described, targets=hung).placement(z=1.2, attitudes="ceiling", **ranges)
    assert int(stands.served_count[0]) == int(hangs.served_count[0]) == 3
    assert float(hangs.worst[0, 0]) == pytest.approx(float(stands.worst[0, 0]), abs=0.01)
    again = aw.Cell(described, targets=upright, mount=over @ hangs.stand_pose.values[0]).check_targets(
        order="limit_margin"
    )
    assert again.limit_margin.values == pytest.approx(hangs.limit_margin.values[0], abs=1e-6)


def test_another_search_finds_nothing_better() -> None:
    """scipy's DIRECT (D. Jones, C. Perttunen, B. Stuckman, J. Optimization Theory and Applications 79,
    1993), on the check of the cell at each place."""
    from scipy.optimize import direct

    told = [aw.Target.pointing(p, d, f"point {i}", spin=0.0) for i, (p, d) in enumerate(
        [((0.5, 0.6, 0.1), "down"), ((-0.2, 0.7, 0.3), (0.3, 1, 0)), ((0.9, 0.1, 0.2), (1, 0, -0.2))])]  # fmt: skip
    narrow = arm(axis_1=(-2.5, 2.5), axis_2=(-0.3, 2.5), axis_3=(-2.8, 2.8), axis_5=(-2, 2))
    post = aw.Box((0.2, 0.4, 0.8), (0.5, 0.2, 0.1), "cupboard")

    def worst(place: Any) -> float:
        c, s = math.cos(place[2]), math.sin(place[2])
        mount = at((place[0], place[1], 0), np.array([[c, -s, 0], [s, c, 0], [0, 0, 1]]))
        check = aw.Cell(narrow, fixtures=post, targets=told, mount=mount).check_targets(order="limit_margin", threads=1)
        served = check.served.values
        return -10.0 * float(served.sum()) - (float(check.limit_margin.values[served].min()) if served.any() else 0.0)

    theirs = direct(worst, [(-0.6, 0.9), (-0.5, 0.9), (-1.5, 1.5)], maxfun=600)
    cell = aw.Cell(narrow, fixtures=post, targets=told)
    found = cell.placement(x=(-0.6, 0.9), y=(-0.5, 0.9), yaw=(-1.5, 1.5), samples=600)
    assert 10.0 * int(found.served_count[0]) + float(found.worst[0, 0]) >= -theirs.fun - 1e-3
    assert -theirs.fun > 30


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_no_place_of_a_fine_grid_is_better(seed: int) -> None:
    """Brute force: the check of the cell at every 50 mm and every 45°, over random points among fixtures."""
    rng = np.random.default_rng(seed)
    told = [
        aw.Target(
            at((*rng.uniform(-0.7, 0.7, 2), rng.uniform(-0.2, 0.5)), facing(rng.normal(size=3), rng.normal(size=3))),
            f"point {i}",
        )
        for i in range(5)
    ]
    post = aw.Box((0.15, 0.15, 1.4), (*rng.uniform(-0.3, 0.3, 2), 0), "post")
    narrow = arm(
        axis_1=(-2.6, 2.6), axis_2=(-0.3, 2.4), axis_3=(-2.6, 2.6), axis_4=(-3, 3), axis_5=(-2, 2), axis_6=(-6, 6)
    )
    cell = aw.Cell(narrow, fixtures=post, targets=told)
    found = cell.placement(x=(-0.4, 0.4), y=(-0.4, 0.4), yaw="any", samples=2500)
    best = (int(found.served_count[0]), float(found.worst[0, 0]))
    tried = 0
    for x in np.arange(-0.4, 0.41, 0.1):
        for y in np.arange(-0.4, 0.41, 0.1):
            for yaw in np.radians(np.arange(-180, 180, 45)):
                c, s = np.cos(yaw), np.sin(yaw)
                mount = at((x, y, 0), np.array([[c, -s, 0], [s, c, 0], [0, 0, 1]]))
                check = aw.Cell(narrow, fixtures=post, targets=told, mount=mount).check_targets(order="limit_margin")
                served = check.served.values
                worst = float(check.limit_margin.values[served].min()) if served.any() else -1.0
                assert (int(served.sum()), worst) <= (best[0], best[1] + 1e-9)
                tried += 1
    assert tried == 648
