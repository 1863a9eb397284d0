from __future__ import annotations

import itertools
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
import xarray as xr
from hypothesis import given, settings
from hypothesis import strategies as st

import armwright as aw
from armwright.studies.track_intervals import parking
from cases.described import positioner, track_cell

POINTS = (
    aw.Target.pointing((0.2, 0.6, 0.3), "down", "near", tilt=0.2),
    aw.Target.pointing((1.1, 0.55, 0.5), (0.3, 1, 0), "beside the post", load=aw.Load("6 kg", (0, 0, 0.05))),
    aw.Target.pointing((0.6, 0.9, 0.2), (0, 1, -0.2), "far"),
    aw.Target.pointing((0.9, 3.0, 0.2), "down", "out of reach"),
)


def pinned(cell: aw.Cell, at: float) -> aw.Cell:
    """The same cell with its track standing still there, and no longer one."""
    told = cell.description
    assert told.track is not None
    mount = told.track.pose @ np.block([[np.eye(3), (at * told.track.axis)[:, None]], [np.zeros(3), 1]]) @ told.mount
    carriage = tuple(replace(s, pose=mount @ np.linalg.inv(told.mount) @ s.pose) for s in told.track.carriage.shapes)
    return aw.Cell.from_description(
        replace(told, track=None, mount=mount, fixtures=(*told.fixtures, *carriage))
    )


def test_served_is_what_the_check_of_the_pinned_arm_says() -> None:
    """Every 37 mm of the track, but for what lies within 2 mm of an end: fixtures, loads, tilts and all."""
    cell = track_cell(targets=POINTS)
    told = cell.track_intervals(stroke=(-1.0, 2.0), margin="3 mm")
    seen = {True: 0, False: 0}
    for at in np.arange(-0.987, 2.0, 0.037):
        check = pinned(cell, at).check_targets(margin="3 mm")
        for i in range(len(POINTS)):
            lower, upper = told.lower.values[i], told.upper.values[i]
            if np.nanmin(np.abs([*(lower - at), *(upper - at), 9.0])) < 2e-3:
                continue
            served = bool(((lower <= at) & (at <= upper)).any())
            assert served == bool(check.served[i]), f"{POINTS[i].name} at {at:.3f} m: {check.reason.values[i]}"
            seen[served] += 1
    assert min(seen.values()) > 40


def test_the_postures_in_the_middle_serve() -> None:
    cell = track_cell(targets=POINTS)
    told = cell.track_intervals()
    for i, k in np.argwhere(~np.isnan(told.lower.values)):
        q = told.q.values[i, k]
        assert q[0] == pytest.approx(0.5 * (told.lower.values[i, k] + told.upper.values[i, k]))
        assert cell.tool_pose(q)[:3, 3] == pytest.approx(POINTS[i].pose[:3, 3], abs=1e-9)
        assert cell.limit_margin(q) >= 0


def test_strokes_and_parking_serve_what_they_say() -> None:
    told = track_cell(targets=POINTS).track_intervals(stroke=(-1, 2))
    lower, upper = told.lower.values, told.upper.values

    def served(a: float, b: float) -> int:
        return int(((upper >= a - 1e-12) & (lower <= b + 1e-12)).any(axis=1).sum())

    count = int(told.served.sum())
    for n in range(1, told.sizes["target"] + 1):
        length, begin = float(told.stroke_length[n - 1]), float(told.stroke_lower[n - 1])
        assert np.isnan(length) == (n > count)
        assert n > count or served(begin, begin + length) >= n
    for i, k in enumerate(told.parking_of.values):
        assert (k >= 0) == bool(told.served[i])
        if k >= 0:
            at = float(told.parking_position[k])
            assert ((lower[i] <= at) & (at <= upper[i])).any()


spans = st.lists(st.tuples(st.integers(0, 30), st.integers(0, 6)), min_size=0, max_size=3)


@given(st.lists(spans, min_size=1, max_size=6))
@settings(max_examples=60, deadline=None)
def test_parking_takes_as_few_positions_as_any_choice(points: list[list[tuple[int, int]]]) -> None:
    """Brute force over every set of the intervals' ends."""
    most = max(len(point) for point in points)
    lower, upper = np.full((2, len(points), most), np.nan)
    for i, point in enumerate(points):
        for k, (begin, length) in enumerate(point):
            lower[i, k], upper[i, k] = begin, begin + length
    positions, of = parking(lower, upper)
    served = [i for i, point in enumerate(points) if point]
    ends = sorted({float(v) for v in upper[~np.isnan(upper)]})

    def hits(chosen: tuple[float, ...]) -> bool:
        return all(any(b <= s <= b + n for b, n in points[i] for s in chosen) for i in served)

    fewest = next(n for n in range(len(ends) + 1) if any(hits(c) for c in itertools.combinations(ends, n)))
    assert len(positions) == fewest
    for i, k in enumerate(of):
        assert (k >= 0) == (i in served)
        assert k < 0 or any(b - 1e-9 <= positions[k] <= b + n + 1e-9 for b, n in points[i])


def test_a_point_without_limits_is_served_from_a_chord_of_the_reach() -> None:
    """Links of 0.6 and 0.5 m, the point 0.66 m aside of the track: 2 · sqrt(1.1² − 0.66²) = 1.76 m of it."""
    bare = replace(positioner(), links=tuple(aw.Link(link.name) for link in positioner().links))
    bare = replace(bare, joints=tuple(aw.Joint(j.name, placement=j.placement, axis=j.axis) for j in bare.joints))
    cell = aw.Cell(bare, aw.Track("y", (-2.0, 2.0)), targets=aw.Target((0.66, 0.1, 0), "point"))
    told = cell.track_intervals()
    assert told.lower.values == pytest.approx(np.array([[0.1 - 0.88]]), abs=1e-5)
    assert told.upper.values == pytest.approx(np.array([[0.1 + 0.88]]), abs=1e-5)
    assert float(told.stroke_length[0]) == 0


def test_threads_change_nothing_and_a_stop_is_heard() -> None:
    cell = track_cell(targets=POINTS)
    xr.testing.assert_identical(cell.track_intervals(threads=1), cell.track_intervals(threads=2))
    with pytest.raises(aw.Cancelled):
        many = [replace(POINTS[0], name=f"{i}", tilt=0.5) for i in range(300)]
        cell.track_intervals(many, progress=lambda done, total: False)


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"stroke": "0 m"}, r"^stroke: got"),
        ({"stroke": (1.0, 0.0)}, r"^stroke: got"),
        ({"stroke": "two"}, r"^stroke: got"),
        ({"margin": -1}, r"^margin: got"),
        ({"limit": "most"}, r"^limit: got 'most'"),
        ({"targets": []}, r"^targets: got none"),
        ({"threads": 0}, r"^threads: got"),
    ],
)
def test_wrong_input_is_told(wrong: dict[str, Any], told: str) -> None:
    with pytest.raises(aw.InputError, match=told):
        track_cell(targets=POINTS).track_intervals(**wrong)


def test_an_arm_without_a_track_is_told() -> None:
    cell = aw.Cell(positioner(), targets=POINTS)
    for more in ({}, {"stroke": 1.0}):
        with pytest.raises(aw.InputError, match=r"^track: got none"):
            cell.track_intervals(**more)


def seven_axes(first: float, second: float, elbow: tuple[float, float]) -> aw.ArmDescription:
    """Shoulder and wrist each of three crossing axes that turn without end, an elbow between."""
    at = ((0, 0, 0.3), (0, 0, 0), (0, 0, 0), (0, 0, first), (0, 0, second), (0, 0, 0), (0, 0, 0))
    joints = tuple(
        aw.Joint(f"axis {i + 1}", placement=place, axis="zyzyzyz"[i], range=elbow if i == 3 else None)
        for i, place in enumerate(at)
    )
    links = tuple(aw.Link(f"link {i + 1}") for i in range(7))
    return aw.ArmDescription(joints, links, "seven axes", flange=(0, 0, 0.1))


@pytest.mark.parametrize("seed", range(6))
def test_seven_axes_against_the_closed_form(seed: int) -> None:
    """What the elbow's range lets the wrist centre reach is a sphere shell, in any attitude and with some value of the
    joint that a pose leaves free (not with any); the track goes through it in a line."""
    draw = np.random.default_rng(seed)
    first, second = draw.uniform(0.3, 0.6, 2)
    elbow = tuple(np.sort(draw.uniform(0.4, 2.6, 2)))
    inner, outer = (np.sqrt(first**2 + second**2 + 2 * first * second * np.cos(q)) for q in elbow[::-1])
    turn = np.linalg.qr(draw.normal(size=(3, 3)))[0]
    pose = np.eye(4)
    pose[:3, :3] = turn * np.sign(np.linalg.det(turn))
    aside = draw.uniform(0, 0.9 * outer)  # of the wrist centre, from the line of the shoulder
    angle = draw.uniform(0, 2 * np.pi)
    pose[:3, 3] = np.array([0.1, aside * np.cos(angle), 0.3 + aside * np.sin(angle)]) + 0.1 * pose[:3, 2]
    cell = aw.Cell(
        seven_axes(first, second, elbow), track=aw.Track((1, 0, 0), stroke=(-1.4, 1.4)), targets=aw.Target(pose, "p")
    )
    far = np.sqrt(outer**2 - aside**2)
    near = np.sqrt(inner**2 - aside**2) if inner > aside else 0.0
    wanted = [0.1 - far, 0.1 + far] if near == 0 else [0.1 - far, 0.1 - near, 0.1 + near, 0.1 + far]
    told = cell.track_intervals()
    found = np.stack([told.lower.values[0], told.upper.values[0]], axis=1).ravel()
    np.testing.assert_allclose(found[~np.isnan(found)], wanted, atol=1e-4)
