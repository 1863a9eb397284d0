"""Errors of the tool against changed descriptions, signs gone through one by one, and sums by hand."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.results import summary
from armwright.studies import tool_error as study
from cases.described import positioner, track_cell
from cases.driven_cells import motor
from cases.true_cells import POSTURE, unsure_cell

ARCMIN = math.radians(1 / 60)


def turned(a: Any, b: Any) -> Any:
    """From attitude a to b, as a vector, to the second order."""
    r = b[:3, :3] @ a[:3, :3].T
    return 0.5 * np.array([r[2, 1] - r[1, 2], r[0, 2] - r[2, 0], r[1, 0] - r[0, 1]])


def test_each_tolerance_moves_the_tool_as_the_changed_description_does() -> None:
    skew = [[0, -1, 0, 0.3], [0.6, 0, -0.8, 0.1], [0.8, 0, 0.6, 0.2], [0, 0, 0, 1]]
    cell = unsure_cell()
    numbers = {
        "track.pose": {"y": 0.4e-3, "yaw": 0.3e-3}, "mount": {"z": 0.5e-3, "roll": 0.4e-3, "pitch": 0.2e-3},
        "arm.joints[axis 4].placement": {"x": 0.2e-3, "roll": 0.5e-3, "pitch": 0.3e-3, "yaw": 0.6e-3},
        "arm.flange": {"y": 0.2e-3, "roll": 0.3e-3, "pitch": 0.4e-3, "yaw": 0.2e-3},
        "tool.tool_point": {"x": 0.1e-3, "roll": 0.1e-3, "pitch": 0.7e-3, "yaw": 0.3e-3},
    }  # fmt: skip
    cell = aw.Cell(replace(cell.description.arm, flange=skew), tool=replace(cell.tool, tool_point=skew), mount=skew,
                   track=aw.Track("x", "2 m", skew))  # fmt: skip
    told = {
        f"{place}.{word}": f"{cell.design_number(f'{place}.{word}').value!r} {unit} ± {amount!r} {unit}"
        for place, words in numbers.items() for word, amount in words.items()
        for unit in ["m" if word in "xyz" else "rad"]
    }  # fmt: skip
    cell = cell.with_numbers(told)
    q = np.array([0.6, *POSTURE])
    found = cell.tool_error(q)
    names = {"track.pose": "track", "mount": "mount", "arm.joints[axis 4].placement": "axis 4: place",
             "arm.flange": "flange", "tool.tool_point": "tool point"}  # fmt: skip
    for place, words in numbers.items():
        for word, amount in words.items():
            path = f"{place}.{word}"
            value = cell.design_number(path).value
            up, down = (cell.with_numbers({path: value + side * amount}).tool_pose(q) for side in (0.5, -0.5))
            row = found.sel(cause=f"{names[place]}, {word}")
            np.testing.assert_allclose(row.position_effect, up[:3, 3] - down[:3, 3], atol=3e-10, rtol=0)
            np.testing.assert_allclose(row.attitude_effect, turned(down, up), atol=3e-10, rtol=0)
            assert float(row.cause_amount) == pytest.approx(amount, rel=1e-9)
    assert int((found.cause_kind == "placement").sum()) == 6 + sum(map(len, numbers.values()))  # 6 of axes 2 and 3


@pytest.mark.parametrize("coupled", [False, True])
def test_play_and_counts_go_through_what_comes_after_them(coupled: bool) -> None:
    cell = unsure_cell(coupled)
    found = cell.tool_error(POSTURE)
    jacobian, matrix = cell.jacobian(POSTURE), np.eye(6) if not coupled else np.asarray(cell.description.arm.coupling)
    for i in range(6):
        name = f"axis {i + 1}"
        # By hand: half of the belt's play over the gear's ratio, half of the gear's own, half a count over both.
        expected = {
            f"{name}, belt: backlash": (6 + i) * ARCMIN / 2 / (40 + i),
            f"{name}, cycloidal: backlash": 1.5 * ARCMIN / 2,
            f"{name}: encoder": 2 * math.pi / 4096 / 2 / (2.5 * (40 + i)),
        }
        for cause, amount in expected.items():
            row = found.sel(cause=cause)
            assert float(row.cause_amount) == pytest.approx(amount, rel=1e-12)
            effect = np.concatenate([row.position_effect.values, row.attitude_effect.values])
            np.testing.assert_allclose(effect, jacobian @ matrix[:, i] * amount, atol=1e-15)


def test_together_they_are_no_worse_than_all_signs_tried() -> None:
    cell = unsure_cell()
    found = cell.tool_error(POSTURE)
    effects = found.position_effect.values[found.cause_kind.values != "placement"]
    apart = study.summed(np.ascontiguousarray(effects[None]))
    axes = effects.reshape(6, 3, 3).sum(axis=1)  # the three causes of one axis go the same way together: 2^6 signs
    every = [np.linalg.norm(np.array(signs) @ axes) for signs in itertools.product((-1, 1), repeat=6)]
    assert apart["worst"][0] == pytest.approx(max(every), rel=1e-12)
    assert bool(apart["worst_exact"][0])
    assert apart["rss"][0] == pytest.approx(math.sqrt((effects**2).sum()), rel=1e-12)
    whole = found.position_effect.values
    np.testing.assert_allclose(found.position_worst_along, np.abs(whole).sum(axis=0), rtol=1e-12)
    np.testing.assert_allclose(found.position_rss_along, np.sqrt((whole**2).sum(axis=0)), rtol=1e-12)
    assert float(found.position_share_worst.sum()) == pytest.approx(1)
    assert float(found.position_share_rss.sum()) == pytest.approx(1)
    vector = found.position_worst_vector.values
    along = np.abs(whole @ vector) / np.linalg.norm(vector)
    assert float(found.position_worst) == pytest.approx(along.sum(), rel=1e-12)
    np.testing.assert_allclose(found.position_share_worst, along / along.sum(), atol=1e-14)
    np.testing.assert_allclose(found.position_share_rss, (whole**2).sum(axis=1) / (whole**2).sum(), atol=1e-14)


def test_no_draw_of_errors_puts_the_tool_further_off_than_the_worst() -> None:
    """Joints and places drawn within their tolerances, both ends often: the real tool, no first order."""
    cell = unsure_cell()
    found = cell.tool_error(POSTURE)
    exact = cell.tool_pose(POSTURE)
    rng = np.random.default_rng(5)
    joint = found.cause_kind.values != "placement"
    amounts = found.cause_amount.values
    paths = {"axis 2: place": "arm.joints[axis 2].placement", "axis 3: place": "arm.joints[axis 3].placement",
             "tool point": "tool.tool_point"}  # fmt: skip
    worst = float(found.position_worst)
    farthest = 0.0
    for trial in range(60):
        share = rng.choice([-1.0, 1.0], size=len(amounts)) if trial % 2 else rng.uniform(-1, 1, len(amounts))
        if trial == 1:  # the very worst
            share = np.sign(found.position_effect.values @ found.position_worst_vector.values)
        off = share * amounts
        q = POSTURE + off[joint].reshape(6, 3).sum(axis=1)
        told = {}
        for name, amount in zip(found.cause.values[~joint], off[~joint], strict=True):
            place, word = str(name).rsplit(", ", 1)
            path = f"{paths[place]}.{word}"
            told[path] = cell.design_number(path).value + amount
        moved = cell.with_numbers(told).tool_pose(q)
        distance = float(np.linalg.norm(moved[:3, 3] - exact[:3, 3]))
        assert distance <= worst * 1.002  # the second order: half the angle, 1e-3, of the shift
        farthest = max(farthest, distance)
    assert farthest > 0.998 * worst


def test_the_root_of_squares_is_what_independent_errors_spread_to() -> None:
    """Drawn evenly over ± the amount each has a third of its square as variance; sums of 100 000 draws, to 1 %."""
    found = unsure_cell().tool_error(POSTURE)
    effects = found.position_effect.values
    draws = np.random.default_rng(1).uniform(-1, 1, (100_000, len(effects))) @ effects
    spread = math.sqrt(3 * draws.var(axis=0).sum())
    assert float(found.position_rss) == pytest.approx(spread, rel=0.01)


def test_what_is_not_told_is_named_and_not_taken_as_nothing() -> None:
    cell = aw.Cell(positioner())
    found = cell.tool_error(np.zeros((2, 6)))
    assert np.isnan(found.position_worst).all() and np.isnan(found.attitude_rss).all()
    assert found.sizes["cause"] == 0
    missing = found.attrs["missing"].split("\n")
    assert missing[:2] == ["axis 1: no drive, so that neither play nor encoder is known",
                           "axis 2: no drive, so that neither play nor encoder is known"]  # fmt: skip
    places = "mount, axis 1, axis 2, axis 3, axis 4, axis 5, axis 6, flange"
    assert missing[-1] == f"places told without a tolerance: {places}"
    assert "nothing is known" in summary(found)
    drive = aw.Drive(motor(encoder_counts=None), (aw.Stage("belt", 2.0), aw.Stage("gear", 3.0, backlash=0.0)))
    joints = [replace(joint, drive=drive) for joint in positioner().joints]
    lost = aw.Cell(replace(positioner(), joints=tuple(joints))).tool_error(np.zeros(6)).attrs["missing"]
    assert "axis 1, belt: no backlash told" in lost and "axis 1, motor: no encoder told" in lost
    assert "gear" not in lost


def test_play_told_of_a_direct_stage_counts() -> None:
    """A coupling with 5 arcmin at an arm of 0.5 m: 0.5 · 2.5 arcmin; not told, it has none."""
    for told, size in (({"backlash": "5 arcmin"}, 0.5 * 2.5 * ARCMIN), ({}, 0.0)):
        drive = aw.Drive(motor(encoder_counts=4096), (aw.Stage("direct", **told),))
        arm = aw.ArmDescription((aw.Joint("axis", drive=drive),), (aw.Link("boom", 5.0),), flange=(0.5, 0, 0))
        found = aw.Cell(arm).tool_error([0.0])
        encoder = 0.5 * math.pi / 4096
        assert float(found.position_worst) == pytest.approx(size + encoder, rel=1e-9)
        assert "backlash" not in found.attrs["missing"]


def test_a_sliding_axis_counts_in_metres() -> None:
    """A screw of 5 mm lead with 0.04 mm of play, driven through 2 : 1 by 1000 counts a turn: ± 0.02 mm, ± 1.25 um."""
    stages = (aw.Stage("belt", 2.0, backlash="10 arcmin"), aw.Stage("screw", lead="5 mm", backlash="0.04 mm"))
    drive = aw.Drive(motor(encoder_counts=1000), stages)
    joint = aw.Joint("slide", "prismatic", axis="x", range=(0, 1), drive=drive)
    cell = aw.Cell(aw.ArmDescription((joint,), (aw.Link("plate", 5.0),)))
    found = cell.tool_error([0.3])
    assert [str(unit) for unit in found.cause_unit.values] == ["m"] * 3
    np.testing.assert_allclose(found.position_effect.values[:, 0],
                               [10 * ARCMIN / 2 * 0.005 / (2 * math.pi), 2e-5, 1.25e-6], rtol=1e-12)  # fmt: skip
    assert float(found.position_worst) == pytest.approx(float(found.position_effect.values[:, 0].sum()), rel=1e-12)
    assert float(found.attitude_worst) == 0.0


def test_the_weight_tells_the_side_of_the_play() -> None:
    found = unsure_cell().tool_error([[0, 0, 0, 0, 0, 0], [0, math.pi, 0, 0, 0, 0]])
    side = found.weight_side.sel(joint="axis 2").values
    assert side.tolist() == [1, -1]
    assert (found.weight_side.sel(joint="axis 1") == 0).all()
    arm = unsure_cell().description.arm
    rough = [replace(joint, drive=replace(joint.drive, friction=aw.Friction(500.0))) for joint in arm.joints]
    stuck = aw.Cell(replace(arm, joints=tuple(rough))).tool_error(np.zeros(6))
    assert (stuck.weight_side == 0).all()


def test_the_side_of_the_play_goes_by_what_a_work_point_carries() -> None:
    """A beam of 10 kg at 0.2 m beyond its axis: 4 kg at 0.5 m just bring it level."""
    drive = aw.Drive(motor(encoder_counts=4096), (aw.Stage("gear", 50.0, backlash="5 arcmin"),))
    joint = aw.Joint("axis", axis="-y", range=(-1, 1), drive=drive)
    arm = aw.ArmDescription((joint,), (aw.Link("beam", 10.0, (-0.2, 0, 0)),), flange=(0.5, 0, 0))
    pose = aw.Cell(arm).tool_pose([0.3])
    targets = [aw.Target(pose, f"{mass:g} kg", load=aw.Load(mass)) for mass in (3.9, 4.1)]
    cell = aw.Cell(arm, targets=[*targets, aw.Target(pose, "the cell's")], load=aw.Load(8.0))
    assert cell.tool_error().weight_side.values[:, 0].tolist() == [-1, 1, 1]
    assert cell.tool_error([0.3]).weight_side.item() == 1


def test_work_points_are_asked_in_their_best_postures() -> None:
    cell = track_cell(targets=[aw.Target.pointing((0.5, 0.6, 0.3), "down", "near"),
                               aw.Target.pointing((9, 9, 9), "down", "far")])  # fmt: skip
    cell = cell.with_numbers({"track.pose.x": "0 mm ± 1 mm"})
    found = cell.tool_error()
    assert found.target.values.tolist() == ["near"]
    assert 'work point "far": not served' in found.attrs["missing"]
    np.testing.assert_allclose(found.q, cell.check_targets().q.values[:1])
    assert float(found.position_worst.item()) == pytest.approx(1e-3)
    assert 'at "near"' in summary(found)


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"q": np.zeros(5)}, "shape"),
        ({"q": np.full(6, np.nan)}, "q"),
        ({}, "work points"),
        ({"q": np.zeros(6), "targets": [aw.Target((0, 0, 1))]}, "one of the two"),
        ({"targets": [aw.Target((9, 9, 9))]}, "none that is served"),
    ],
)
def test_what_cannot_be_is_refused(given: dict[str, Any], said: str) -> None:
    with pytest.raises(aw.InputError, match=said):
        unsure_cell().tool_error(**given)
