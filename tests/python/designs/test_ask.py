"""Ready answers, against what is worked out by hand and what the studies themselves say."""

from __future__ import annotations

import math
import pickle

import numpy as np
import pytest

import armwright as aw
from cases.described import positioner
from cases.designs import held_at, level_cell
from cases.driven_cells import driven_arm, swing
from cases.moving_cells import moving_cell


@pytest.mark.parametrize(("name", "reach"), [("far", 1.0), ("near", 0.9)])
def test_payload_by_hand(name: str, reach: float) -> None:
    told = aw.ask.payload(name).ask(level_cell())
    assert told.value == pytest.approx(held_at(reach), rel=1e-12)
    assert told.where == f"{name}: axis 3, stated"
    assert aw.ask.payload_margin(name).ask(level_cell()).value == pytest.approx(held_at(reach) - 2.0)


def test_of_all_points_the_worst() -> None:
    cell = level_cell()
    margin = aw.ask.payload_margin().ask(cell)
    assert margin.value == pytest.approx(held_at(1.0) - 2.0) and margin.where.startswith("far")
    result = cell.check_targets()
    assert aw.ask.limit_margin().ask(cell).value == pytest.approx(float(result.limit_margin.min()))
    assert aw.ask.clearance().ask(cell).value == pytest.approx(float(result.clearance.min()))
    assert aw.ask.served().ask(cell) == aw.Asked(2.0, "", "all")


def test_a_point_that_is_lost_leaves_no_answer() -> None:
    cell = level_cell()
    shorter = cell.with_numbers({"arm.links[upper arm].length": 0.45})
    bound = aw.ask.payload_margin().bound_to(cell)
    told = bound.ask(shorter)
    assert math.isnan(told.value) and told.reason.startswith("far: out of reach by 50 mm")
    assert math.isnan(bound.ask_again(shorter, bound.ask(cell).held).value)
    assert aw.ask.served().ask(shorter).value == 1 and "far" in aw.ask.served().ask(shorter).where
    # What the first design does not reach is not asked of the others.
    assert aw.ask.payload_margin().bound_to(shorter).ask(shorter).where.startswith("near")


def test_a_cell_that_reaches_nothing_is_asked_of_all() -> None:
    moon = aw.Cell(positioner(), targets=[aw.Target.pointing((5, 0, 0), "x", "moon")])
    bound = aw.ask.payload_margin().bound_to(moon)
    assert bound.ask(moon).reason.startswith("moon: out of reach")
    nearer = moon.with_numbers({"targets[moon].pose.x": 1.0})
    assert bound.ask(nearer).known
    result = moon.changes("mount.z")
    assert (result.derivative_reason.sel(answer="least payload margin").values[0]).startswith("moon: out of reach")


def test_again_is_the_same_posture_in_another_design() -> None:
    cell = level_cell()
    answer = aw.ask.payload("far").bound_to(cell)
    told = answer.ask(cell)
    for upper in (0.59, 0.62):
        changed = cell.with_numbers({"arm.links[upper arm].length": upper, "arm.links[upper arm].centre.x": upper / 2})
        again = answer.ask_again(changed, told.held)
        assert again.value == pytest.approx(held_at(1.0, upper=upper), rel=1e-9)
    stronger = cell.with_numbers({"arm.joints[axis 3].torque_continuous": "60 N*m"})
    assert answer.ask_again(stronger, told.held).value == pytest.approx(held_at(1.0, torques=(160, 60)), rel=1e-12)


def test_cycles() -> None:
    cell, motion = driven_arm(), swing()
    check = cell.drive_check(motion)
    share = aw.ask.greatest_share(motion).ask(cell)
    flags = check.share_limit.attrs["flag_meanings"].split()
    parts = [not flags[code].startswith("joint_") for code in check.share_limit.values]
    assert share.value == pytest.approx(check.share.values[parts].max())
    assert aw.ask.greatest_share(motion).ask_again(cell, share.held).value == share.value
    assert math.isnan(aw.ask.greatest_share(motion).ask_again(cell, "no such part").value)
    assert aw.ask.speed_factor(motion).ask(cell).value == check.attrs["speed_factor"]
    assert aw.ask.cycle_load(motion).ask(cell).reason == "nothing is carried"


def test_time_of_a_cycle() -> None:
    cell = moving_cell()
    cycle = aw.Cycle((aw.JointMove("rack"), aw.JointMove("kiln")), name="there and back")
    answer = aw.ask.cycle_time(cycle)
    assert answer.ask(cell).value == pytest.approx(cell.motion(cycle, clearance=False).attrs["duration"])
    assert answer.name == "time of there and back" and answer.better == "less"
    lost = aw.ask.cycle_time(aw.Cycle((aw.JointMove("rick"),)))
    assert "rack" in lost.ask(cell).reason


def test_the_drop_without_power_is_the_stop_from_rest() -> None:
    cell = level_cell()
    told = aw.ask.stop_drop("far").ask(cell)
    q = cell.check_targets().q.values[0]
    assert told.value == pytest.approx(float(cell.stop(q, 0 * q).tool_drop)) and told.value > 0


def test_the_reachable_volume_is_the_map_s() -> None:
    cell = level_cell()
    told = aw.ask.reachable_volume("0.4 m", ["x", "-x"]).ask(cell)
    assert told.value == cell.reach_map(0.4, directions=["x", "-x"], spins=1).attrs["reachable_volume"] > 0


def test_they_cross_to_other_processes() -> None:
    cell = level_cell()
    for answer in (aw.ask.payload_margin(), aw.ask.served(), aw.ask.greatest_share(swing()), aw.ask.stop_drop("far")):
        bound = answer.bound_to(cell)
        told = pickle.loads(pickle.dumps(bound))
        assert (told.name, told.unit, told.better) == (bound.name, bound.unit, bound.better)
    asked = aw.ask.payload("far").ask(cell)
    same = pickle.loads(pickle.dumps(asked))
    assert same.value == asked.value and np.array_equal(same.held[0].q, asked.held[0].q)


def test_wrong_names_are_refused_before_anything_is_asked() -> None:
    cell = level_cell()
    for answer in (aw.ask.payload("fat"), aw.ask.served(["fat"])):
        with pytest.raises(aw.InputError, match="did you mean far"):
            answer.bound_to(cell)
    with pytest.raises(aw.InputError, match="Cycle"):
        aw.ask.cycle_time("cycle")  # type: ignore[arg-type]
    with pytest.raises(aw.InputError, match="spacing"):
        aw.ask.reachable_volume(0)
