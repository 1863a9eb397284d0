"""How an arm hangs against moments by hand, and level postures by their own centre of gravity."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.results import summary
from armwright.studies import lifting
from cases.described import positioner, track_cell
from cases.true_cells import POSTURE, weighed_arm

G = 9.80665


def cell(**more: Any) -> aw.Cell:
    return aw.Cell.from_description(weighed_arm(**more))


def beam(eye: Any = (0, 0, 0.05), **more: Any) -> aw.Cell:
    """A 30 kg foot below the origin, and a level 10 kg arm 0.8 m out on one axis across."""
    foot = aw.Link("foot", 30.0, (0, 0, -0.6))
    joint = aw.Joint("axis", axis="-y", range=(-3, 3))
    arm = aw.ArmDescription((joint,), (aw.Link("boom", 10.0, (0.8, 0, 0)),), base_link=foot)
    return aw.Cell.from_description(aw.CellDescription(arm, lifting=(aw.LiftingEye("foot", eye, "80 kg"),), **more))


def test_mass_and_centre_are_the_sums_of_the_parts() -> None:
    described = weighed_arm()
    found = cell().lifting(POSTURE)
    arm = described.arm
    frames = aw.Cell(arm, tool=described.tool).link_poses(POSTURE)
    parts = [(arm.base_link.mass, np.asarray(arm.base_link.centre))]
    parts += [(link.mass, (frame @ (*link.centre, 1.0))[:3]) for link, frame in zip(arm.links, frames, strict=True)]
    parts += [(1.5, (frames[-1] @ arm.flange @ (0, 0, 0.05, 1.0))[:3])]
    mass = sum(part for part, _ in parts)
    assert found.attrs["mass"] == pytest.approx(mass, rel=1e-14)
    assert found.attrs["weight"] == pytest.approx(mass * G, rel=1e-14)
    np.testing.assert_allclose(found.centre, sum(m * at for m, at in parts) / mass, atol=1e-14)
    np.testing.assert_allclose(found.part_centre, [at for _, at in parts], atol=1e-14)
    off = cell().lifting(POSTURE, tool=False)
    assert off.attrs["mass"] == pytest.approx(mass - 1.5, rel=1e-14)
    assert "tool: taken off" in off.attrs["missing"] and "tool" not in off.part.values


def test_a_beam_hangs_by_moments_about_its_eye() -> None:
    """C = (10 * 0.8, -30 * 0.6) / 40 = (0.2, -0.45); eye 0.05 up: tan of the tilt 0.2 / 0.5, the boom's side sinks."""
    found = beam().lifting([0.0])
    np.testing.assert_allclose(found.centre, [0.2, 0, -0.45], atol=1e-15)
    assert found.tilt.item() == pytest.approx(math.atan(0.2 / 0.5), rel=1e-12)
    np.testing.assert_allclose(found.sinks_towards.values[0], [1, 0, 0], atol=1e-12)
    lever = 0.8 * math.cos(found.tilt.item())  # across the line of the weight
    assert found.hung_torque.item() == pytest.approx(10 * G * lever, rel=1e-12)
    assert found.eye_safety.item() == pytest.approx(2.0)
    assert not found.holds.item() and np.isnan(found.brake_torque.item())
    assert "axis: no brake" in found.attrs["missing"]
    assert "NOT HELD by brakes: axis" in summary(found)


def test_brakes_of_coupled_axes_hold_what_comes_through_the_coupling(monkeypatch: pytest.MonkeyPatch) -> None:
    """Virtual work: axis k holds M g u · d(C - P)/d(axis k), joints moved by the coupling, here by differences."""
    monkeypatch.setattr(lifting, "starts", 10)  # the level posture does not count here
    described = weighed_arm()
    coupling = np.eye(6)
    coupling[2, 1], coupling[4, 3], coupling[5, 4] = -1.0, 0.4, -0.7
    made = aw.Cell.from_description(replace(described, arm=replace(described.arm, coupling=coupling)))
    found = made.lifting(POSTURE)

    def below(q: Any) -> Any:
        at = made.lifting(q)
        return at.centre.values - at.eye_point.values[0]

    middle, step = below(POSTURE), 1e-5
    slopes = np.stack([(below(POSTURE + step * c) - below(POSTURE - step * c)) / (2 * step) for c in coupling.T])
    wanted = -found.attrs["weight"] * slopes @ middle / np.linalg.norm(middle)
    np.testing.assert_allclose(found.hung_torque.values[0], wanted, atol=1e-6)
    np.testing.assert_allclose(found.brake_factor.values[0, :5], (found.brake_torque / np.abs(wanted))[:5], rtol=1e-6)
    assert abs(wanted[1] - cell().lifting(POSTURE).hung_torque.values[0, 1]) > 10


def test_upright_is_as_it_is_mounted_unless_told() -> None:
    """The same beam bolted to a wall: its own x axis up; upright told by hand gives what a floor gives."""
    wall = [[0, 0, 1, 0], [0, 1, 0, 0], [-1, 0, 0, 1], [0, 0, 0, 1]]  # the base's -x axis up
    found = beam(mount=wall).lifting([0.0])
    np.testing.assert_allclose(found.attrs["up"], [-1, 0, 0], atol=1e-15)
    assert found.tilt.item() == pytest.approx(math.atan2(0.5, 0.2), rel=1e-12)
    as_on_floor = beam(mount=wall).lifting([0.0], up="z")
    assert as_on_floor.tilt.item() == pytest.approx(math.atan(0.2 / 0.5), rel=1e-12)


def test_a_centre_above_the_eye_turns_over() -> None:
    found = beam((0, 0, -0.55)).lifting([0.0])
    assert found.tilt.item() == pytest.approx(math.pi - math.atan2(0.2, 0.1), rel=1e-12)
    assert "TURNS OVER" in summary(found)


def test_with_its_centre_in_the_eye_it_hangs_anyhow() -> None:
    """Two masses alike, the eye between them where the boom is level: nowhere is the centre right below it; in it, as
    far as places are known, is not level."""
    arm = aw.ArmDescription((aw.Joint("axis", axis="-y", range=(-2, 2)),), (aw.Link("boom", 10.0, (0.5, 0, 0)),),
                            base_link=aw.Link("foot", 10.0, (-0.5, 0, 0)))  # fmt: skip
    for off in (0.0, 1e-7, 9e-4):
        made = aw.Cell.from_description(aw.CellDescription(arm, lifting=(aw.LiftingEye("foot", (0, 0, off)),)))
        found = made.lifting([0.0])
        assert np.isnan(found.tilt.item()) and np.isnan(found.hung_torque.item()) and not found.holds.item()
        assert "hangs ANYHOW" in summary(found)
        below = float(np.linalg.norm(found.level_centre - found.level_eye_point))
        assert below >= 1e-3 or not found.level_found.item()
    low = aw.Cell.from_description(aw.CellDescription(arm, lifting=(aw.LiftingEye("foot", (0, 0, 0.002)),)))
    assert low.lifting([0.0]).tilt.item() == pytest.approx(0.0, abs=1e-12)


def test_the_beam_hangs_level_with_its_boom_upright() -> None:
    """The centre is under the eye with the boom straight up or down; nothing is to be held then."""
    found = beam().lifting([0.4])
    assert found.level_found.item() and found.level_tilt.item() < 1e-9
    assert abs(abs(math.remainder(found.level_q.item(), math.pi)) - math.pi / 2) < 1e-9
    assert abs(found.level_hung_torque.item()) < 1e-6
    assert found.level_holds.item()  # no brake, and nothing to hold


def test_the_level_posture_has_its_centre_under_the_eye_and_is_held() -> None:
    found = cell().lifting(POSTURE)
    for eye in found.eye.values:
        row = found.sel(eye=eye)
        again = cell().lifting(row.level_q.values).sel(eye=eye)
        assert float(again.tilt) == pytest.approx(float(row.level_tilt), abs=1e-9)
        np.testing.assert_allclose(again.hung_torque, row.level_hung_torque, atol=1e-9)
        np.testing.assert_allclose(again.centre, row.level_centre, atol=1e-12)
    first = found.sel(eye="shoulder eye")
    assert bool(first.level_found)
    below = first.level_centre.values - first.level_eye_point.values
    assert math.hypot(below[0], below[1]) < 1e-6 * 10 and below[2] < 0
    lower, upper = cell().limits[:2]
    assert ((first.level_q.values >= lower) & (first.level_q.values <= upper)).all()
    assert float(first.level_clearance) >= 0
    factor = first.level_brake_factor.values
    assert np.isnan(factor[5]) and (factor[:5] >= 1).all()
    loaded = np.isfinite(factor)
    assert loaded.sum() >= 3
    by_hand = found.brake_torque.values / np.abs(first.level_hung_torque.values)
    np.testing.assert_allclose(factor[loaded], by_hand[loaded])
    missing = found.attrs["missing"]
    assert 'eye "foot eye": no rated mass told' in missing and "axis 6: no brake" in missing
    assert "wrist" not in missing and "link 4: no mass told, counted as 0 kg" in missing


def test_where_nothing_hangs_level_the_least_tilted_is_told_as_such() -> None:
    """An eye far out on the foot: the boom cannot bring the centre, (0.2 cos a, 0.2 sin a - 0.45), under it. All angles
    of the boom tried."""
    far = beam((2.0, 0, 0.05))
    found = far.lifting([0.0])
    assert not found.level_found.item()
    a = np.linspace(-3, 3, 200_001)
    least = np.arctan2(2.0 - 0.2 * np.cos(a), 0.5 - 0.2 * np.sin(a)).min()
    assert found.level_tilt.item() == pytest.approx(least, abs=1e-8)
    assert "hangs level in no posture found" in summary(found)


def test_weak_brakes_are_told() -> None:
    weak = cell(brake="0.001 N*m").lifting(POSTURE)
    assert not weak.holds.any()
    assert "NOT HELD by brakes" in summary(weak)


def test_a_track_and_a_load_are_left_where_they_are() -> None:
    tracked = track_cell()
    eye = aw.LiftingEye(tracked.description.arm.links[0].name, (0, 0, 0.1))
    described = replace(tracked.description, lifting=(eye,))
    on_track = aw.Cell.from_description(described)
    alone = aw.Cell.from_description(replace(described, track=None, load=None, fixtures=()))
    q = np.linspace(-0.2, 0.3, on_track.joint_count)
    a, b = on_track.lifting(q), alone.lifting(q[1:])
    assert a.attrs["mass"] == b.attrs["mass"]
    np.testing.assert_allclose(a.centre, b.centre, atol=1e-14)
    np.testing.assert_allclose(on_track.lifting(q[1:]).tilt, a.tilt)


def test_without_an_eye_mass_and_centre_are_told_still() -> None:
    found = aw.Cell(positioner()).lifting()
    assert found.sizes["eye"] == 0 and "no lifting eye is described" in found.attrs["missing"]
    assert found.attrs["mass"] == pytest.approx(11.0)
    assert "11 kg" in summary(found)


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"q": np.zeros(4)}, "shape"), ({"q": np.full(6, np.inf)}, "q"), ({"tool": "yes"}, "tool"),
        ({"up": "aside"}, "up"), ({"level": 0.0}, "level"), ({"level": "90 deg"}, "level"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(given: dict[str, Any], said: str) -> None:
    with pytest.raises(aw.InputError, match=said):
        cell().lifting(**given)


def test_nothing_with_a_mass_is_refused() -> None:
    arm = positioner()
    links = tuple(replace(link, mass=0.0, inertia=None) for link in arm.links)
    with pytest.raises(aw.InputError, match="nothing to lift"):
        aw.Cell(replace(arm, links=links)).lifting()
