"""A place's numbers make the pose that they say, and the cell stands there."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import armwright as aw
from armwright.designs.placement.place import ATTITUDES, attitude_of, numbers_of, placed, poses_at, shifts_at
from cases.described import at, positioner, track_cell

RNG = np.random.default_rng(5)


def one(now: np.ndarray, numbers: np.ndarray, attitude: str) -> np.ndarray:
    return poses_at(now, numbers[None], np.array([ATTITUDES.index(attitude)]))[0]


@pytest.mark.parametrize("attitude", ["floor", "wall", "ceiling"])
def test_numbers_and_pose_are_one_and_the_same(attitude: str) -> None:
    for _ in range(20):
        turn = RNG.uniform(-3, 3) if attitude == "wall" else 0.0
        numbers = np.array([*RNG.uniform(-2, 2, 3), RNG.uniform(-3, 3), turn, np.nan])
        pose = one(np.eye(4), numbers, attitude)
        assert attitude_of(pose[:3, :3]) == attitude
        assert numbers_of(pose) == pytest.approx(numbers, nan_ok=True)
        assert pose[:3, :3] @ pose[:3, :3].T == pytest.approx(np.eye(3))
        assert np.linalg.det(pose[:3, :3]) == pytest.approx(1)


def test_which_way_the_stand_looks() -> None:
    """By hand: up; level along (0, 1, 0) at 90 degrees, its x axis down; upside down, yaw about the vertical."""
    numbers = np.array([0, 0, 0, np.pi / 2, 0, np.nan])
    assert one(np.eye(4), numbers, "floor")[:3, 0] == pytest.approx([0, 1, 0])
    wall = one(np.eye(4), numbers, "wall")
    assert wall[:3, 2] == pytest.approx([0, 1, 0]) and wall[:3, 0] == pytest.approx([0, 0, -1])
    ceiling = one(np.eye(4), numbers, "ceiling")
    assert ceiling[:3, 2] == pytest.approx([0, 0, -1]) and ceiling[:3, 0] == pytest.approx([0, 1, 0])


def test_a_stand_aslant_keeps_its_slant() -> None:
    slant = at((0.1, 0.2, 0.3), np.array([[1, 0, 0], [0, np.cos(0.4), -np.sin(0.4)], [0, np.sin(0.4), np.cos(0.4)]]))
    assert attitude_of(slant[:3, :3]) == "as_it_stands"
    assert one(slant, numbers_of(slant), "as_it_stands") == pytest.approx(slant)
    turned = one(slant, np.array([0, 0, 0, 1.0, 0, np.nan]), "as_it_stands")
    assert turned[2, 2] == pytest.approx(np.cos(0.4))  # as steep as before


def test_the_cell_stands_there_and_a_pedestal_goes_along() -> None:
    pedestal = aw.Box((0.3, 0.3, 0.5), (0.2, 0, -0.25), "pedestal")
    cell = aw.Cell(positioner(), fixtures=(pedestal, aw.Box((0.1, 0.1, 0.1), (1, 1, 1), "post")), mount=(0.2, 0, 0))
    numbers = np.array([1.0, 2.0, 0.5, np.pi / 2, 0, np.nan])
    moved = placed(cell, numbers, "floor", ("pedestal",))
    assert moved.description.mount[:3, 3] == pytest.approx([1, 2, 0.5])
    assert moved.fixtures[0].pose[:3, 3] == pytest.approx([1, 2, 0.25])
    assert moved.fixtures[1] == cell.fixtures[1]
    assert moved.arm == cell.arm


def test_a_track_is_moved_as_a_whole() -> None:
    cell = track_cell()
    moved = placed(cell, np.array([0.3, -0.2, 0.18, np.pi / 2, 0, np.nan]), "floor")
    q = np.array([0.4, *np.zeros(6)])
    numbers = np.array([[0.3, -0.2, 0.18, np.pi / 2, 0, np.nan]])
    shift = shifts_at(np.asarray(cell.track.pose), numbers, np.array([0]))[0]  # type: ignore[union-attr]
    assert moved.tool_pose(q) == pytest.approx(shift @ cell.tool_pose(q))


def test_a_parked_arm_is_where_its_track_was_and_its_carriage_stays_with_it() -> None:
    carriage = aw.Link("carriage", shapes=(aw.Box((0.3, 0.3, 0.06), (0, 0, -0.05), "plate"),))
    track = aw.Track(
        "x", (0, 1), (0, 0, 0.18), carriage=carriage, rails=(aw.Box((2, 0.1, 0.02), (0.5, 0, -0.1), "post"),)
    )
    cell = track_cell(track=track)
    cell = aw.Cell.from_description(replace(cell.description, mount=np.asarray(at((0, 0.02, 0.05)))))
    parked = placed(cell, np.array([0, 0, 0, 0, 0, 0.7]), "floor")
    q = RNG.uniform(-0.5, 0.5, 6)
    assert parked.track is None
    assert parked.tool_pose(q) == pytest.approx(cell.tool_pose(np.array([0.7, *q])))
    base = parked.description.arm.base_link
    plate = parked.description.mount @ base.shapes[-1].pose
    assert plate[:3, 3] == pytest.approx([0.7, 0, 0.13])
    assert [shape.name for shape in parked.fixtures] == ["post", "floor", "post of the rails"]
    assert parked.fixtures[-1].pose[:3, 3] == pytest.approx([0.5, 0, 0.08])
