"""Whether service volumes are free, against distances by hand."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.results import summary
from cases.driven_cells import motor

G = 9.80665


def two_links(brake: aw.Brake | None = None, **more: Any) -> aw.Cell:
    """Two level links in a vertical plane, a ball on each; the second's motor comes out of the first upwards, through a
    ball of room 0.4 m over it."""
    drive = aw.Drive(motor(), (aw.Stage("gear", 50.0),), brake=brake)
    joints = (
        aw.Joint("axis 1", axis="-y", range=(-1, 1)),
        aw.Joint("axis 2", placement=(0.5, 0, 0), axis="-y", range=(-2, 2), drive=drive),
    )
    links = (
        aw.Link("first", 4.0, (0.25, 0, 0), shapes=(aw.Sphere(0.3, (0.2, 0, 0)),)),
        aw.Link("second", 3.0, (0.4, 0, 0), shapes=(aw.Sphere(0.1, (0.4, 0, 0)),)),
    )
    room = aw.ServiceVolume("axis 2", "first", (aw.Sphere(0.05, (0.2, 0, 0.4), name="way out"),), "z", "5 kg")
    arm = aw.ArmDescription(joints, links)
    return aw.Cell.from_description(aw.CellDescription(arm, service=(room,), mount=(0, 0, 1), **more))


def test_the_next_link_and_fixtures_stand_in_the_way() -> None:
    post = aw.Sphere(0.1, (0.2, 0.3, 1.4), name="post")
    cell = two_links(fixtures=(post,))
    q = np.array([[[0.0, 0.0], [0.0, 1.9]], [[0.3, 1.9], [0.0, 2.0]]])
    found = cell.service(q)
    assert found.distance.dims[-1] == "volume" and found.distance.shape == (2, 2, 1)
    for i, j in np.ndindex(2, 2):
        a, b = q[i, j]
        room = np.array([0.2 * math.cos(a) - 0.4 * math.sin(a), 0, 1 + 0.2 * math.sin(a) + 0.4 * math.cos(a)])
        end = np.array([0.5 * math.cos(a) + 0.4 * math.cos(a + b), 0, 1 + 0.5 * math.sin(a) + 0.4 * math.sin(a + b)])
        by = {"post": np.linalg.norm(room - (0.2, 0.3, 1.4)) - 0.15, "second": np.linalg.norm(room - end) - 0.15}
        nearest = min(by, key=by.__getitem__)
        assert found.distance.values[i, j, 0] == pytest.approx(by[nearest], abs=1e-12)
        assert found.nearest.values[i, j, 0] == nearest
        assert bool(found.free.values[i, j, 0]) == (by[nearest] > 0)
        np.testing.assert_allclose(found.way_out.values[i, j, 0], [-math.sin(a), 0, math.cos(a)], atol=1e-12)
        assert found.unheld_torque.values[i, j, 0] == pytest.approx(3 * G * 0.4 * math.cos(a + b), abs=1e-9)
    assert bool(cell.service([0, 0], margin="50 mm").free.item())
    assert not bool(cell.service([0, 0], margin="200 mm").free.item())


def test_a_coupled_axis_holds_what_comes_through_the_coupling() -> None:
    """Axis 2 driven past the elbow: axis 1 keeps the second link's attitude, so that its weight counts at the elbow."""
    made = two_links().description
    made = replace(made, arm=replace(made.arm, coupling=[[1, 0], [-1, 1]]),
                   service=(replace(made.service[0], motor="axis 1", name="first motor"), made.service[0]))  # fmt: skip
    a, b = 0.3, 0.5
    found = aw.Cell.from_description(made).service([a, b], samples=5)
    wanted = [(4 * 0.25 + 3 * 0.5) * G * math.cos(a), 3 * G * 0.4 * math.cos(a + b)]
    np.testing.assert_allclose(found.unheld_torque.values, wanted, atol=1e-9)


def test_the_best_posture_is_free_clear_and_least_loaded() -> None:
    cell = two_links()
    found = cell.service(samples=3000)
    best = found.best_q.values[0]
    assert bool(found.best_free.item()) and float(found.best_arm_clearance.item()) > 0
    again = cell.service(best)
    assert float(again.distance.item()) == pytest.approx(float(found.best_distance.item()), abs=1e-12)
    assert abs(float(found.best_unheld_torque.item())) < 0.05 * 3 * G * 0.4  # about straight down or up
    assert 0 < float(found.free_share.item()) < 1
    assert not bool(found.held_without_motor.item())
    assert "N·m to be propped" in summary(found)
    kept = two_links(aw.Brake("60 N*m", side="joint")).service()
    assert bool(kept.held_without_motor.item()) and "to be propped" not in summary(kept).split("\n")[1]


def test_a_volume_that_is_never_free_tells_what_is_in_it() -> None:
    wall = aw.Box((4, 0.02, 4), (0, 0.5, 1), name="wall")
    room = aw.ServiceVolume("axis 2", "first", (aw.Box((0.2, 0.6, 0.2), (0.2, 0.3, 0)),))
    described = replace(two_links().description, fixtures=(wall,), service=(room,), load=aw.Load(2.0))
    cell = aw.Cell.from_description(described)
    found = cell.service()
    assert not bool(found.best_free.item()) and float(found.best_distance.item()) < 0
    assert "free in NO posture tried" in summary(found) and "wall" in summary(found)
    assert "motor of axis 2: the way out is not told" in found.attrs["missing"]
    assert "motor of axis 2: the motor's mass is not told" in found.attrs["missing"]
    assert np.isnan(found.way_out).all() and np.isnan(found.motor_mass).all()


def test_motors_without_a_volume_are_named() -> None:
    described = two_links().description
    arm = described.arm
    joints = (replace(arm.joints[0], drive=arm.joints[1].drive), arm.joints[1])
    found = aw.Cell.from_description(replace(described, arm=replace(arm, joints=joints))).service()
    assert "axis 1: no service volume for its motor" in found.attrs["missing"]


def test_what_is_on_a_track_counts_only_where_there_is_one() -> None:
    described = two_links().description
    room = aw.ServiceVolume("track", "carriage", (aw.Sphere(0.05, (0, 0.4, 0)),), "y", "4 kg")
    none = aw.Cell.from_description(replace(described, service=(*described.service, room)))
    found = none.service([0, 0], samples=10)
    assert list(found.volume.values) == ["motor of axis 2"]
    assert "motor of track: on the track, and the cell has none: not counted" in found.attrs["missing"]
    only = aw.Cell.from_description(replace(described, service=(room,)))
    with pytest.raises(aw.InputError, match="on the track, and the cell has none"):
        only.service([0, 0])
    sled = aw.Track("x", (0, 1), carriage=aw.Link("sled", 9.0))
    for link in ("carriage", "sled"):
        railed = replace(described, service=(replace(room, link=link),), track=sled)
        found = aw.Cell.from_description(railed).service([0.2, 0, 0], samples=10)
        np.testing.assert_allclose(found.way_out.values[0], [0, 1, 0], atol=1e-12)
        assert str(found.link.values[0]) == "sled" and "not counted" not in found.attrs["missing"]


def test_no_clear_posture_at_all() -> None:
    block = aw.Box((3, 3, 3), (0, 0, 1), name="block")
    found = two_links(fixtures=(block,)).service(samples=50)
    assert np.isnan(found.best_q).all() and float(found.clear_share.item()) == 0
    assert "no posture that was tried is clear" in summary(found)


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"q": np.zeros(3)}, "shape"), ({"samples": 0}, "samples"), ({"margin": -1.0}, "margin"),
        ({"samples": 2.5}, "samples"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(given: dict[str, Any], said: str) -> None:
    with pytest.raises(aw.InputError, match=said):
        two_links().service(**given)


def test_a_cell_without_volumes_is_told_what_it_lacks() -> None:
    with pytest.raises(aw.InputError, match="service volume"):
        aw.Cell.from_description(replace(two_links().description, service=())).service()
