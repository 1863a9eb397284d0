"""Design numbers: names, reading, changing, what is refused."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import armwright as aw
from armwright import describe
from armwright.describe.design_numbers import design_number, design_numbers, design_part, with_numbers
from cases.described import positioner

DEMO = Path(aw.__file__).parent / "demo" / "cell.toml"
GEAR = "arm.joints[axis 2].drive.stages[reducer 121 large]"


@pytest.fixture(scope="module")
def cell() -> aw.CellDescription:
    return describe.load_cell(DEMO)


@pytest.mark.parametrize(
    ("path", "value", "unit"),
    [
        (f"{GEAR}.ratio", 121, "1"),
        (f"{GEAR}.rated_torque", 330, "N*m"),
        ("arm.joints[axis 2].drive.motor.peak", 9.6, "N*m"),
        ("arm.joints[axis 2].bearing.pitch_diameter", 0.158, "m"),
        ("arm.joints[axis 5].bearing.static_rating.far", 4700, "N"),
        ("arm.links[forearm].structure.wall", 0.004, "m"),
        ("arm.links[turret].structure.bending", 9e5, "N*m/rad"),
        ("track.guide.rails[0]", -0.125, "m"),
        ("track.guide.beam.second_moment", 31e-8, "m^4"),
        ("track.feed.allowed_stress", 180e6, "Pa"),
        ("base.bolts.circle_diameter", 0.236, "m"),
        ("lifting[turret eye].point.z", 0.285, "m"),
        ("service[motor of axis 2].mass", 4.1, "kg"),
        ("arm.joints[axis 1].range.lower", math.radians(-165), "rad"),
        ("arm.links[upper arm].mass", 13.2, "kg"),
        ("arm.links[upper arm].inertia.yy", 0.57, "kg*m^2"),
        ("track.stroke", 2.1, "m"),
        ("track.drive.friction.coulomb.forward", 25, "N"),
        ("tool.mass", 1.7, "kg"),
        ("mount.z", 0, "m"),
        ("fixtures[post].pose.x", 2.25, "m"),
        ("targets[kiln, front].pose.roll", math.pi / 2, "rad"),
        ("targets[left shelf 2, bag of clay].load.mass", 12.5, "kg"),
    ],
)
def test_a_number_has_a_name_a_value_and_a_unit(
    cell: aw.CellDescription, path: str, value: float, unit: str
) -> None:
    number = design_number(cell, path)
    tolerance = {"arm.links[upper arm].mass": 1.056, "tool.mass": 0.17}.get(path, 0.0)  # 8 % and 10 %
    assert number == aw.DesignNumber(
        path, pytest.approx(value, abs=1e-12), unit, pytest.approx(tolerance)  # type: ignore[arg-type]
    )
    assert number in design_numbers(cell)


@pytest.mark.parametrize(
    ("path", "value", "tolerance"),
    [
        ("arm.joints[axis 3].placement.z", 0.585, 0.0003),
        ("arm.joints[axis 3].placement.roll", 0.0, math.radians(0.02)),
        ("arm.links[upper arm].length", 0.585, 0.0003),  # straight up: its height's alone
        ("arm.links[turret].length", math.hypot(0.09, 0.185), 0.0001),  # 0.1 mm either way: 0.1 mm along it
        ("arm.base_link.length", 0.235, 0.0002),
    ],
)
def test_a_number_has_its_tolerance(cell: aw.CellDescription, path: str, value: float, tolerance: float) -> None:
    number = design_number(cell, path)
    assert (number.value, number.tolerance) == (pytest.approx(value, abs=1e-12), pytest.approx(tolerance))


def test_every_number_is_set_and_nothing_else_moves(cell: aw.CellDescription) -> None:
    """All of them, but for the entries of inertias (a single one makes no body), counts (whole numbers) and turns by
    half a turn, which have two names: what is read back is what was set, and of the others only what the module says
    goes along."""
    known = {number.path: number for number in design_numbers(cell)}
    left_out = ("inertia.", "targets", "count", "service")
    few = [path for path in known if not any(word in path for word in left_out)][::3]
    assert len(few) > 100
    for path in few:
        value = known[path].value * (0.99 if path.endswith("weld_share") else 1.01) or 1e-3  # no share is above 1
        made = with_numbers(cell, {path: value})
        after = {number.path: number.value for number in design_numbers(made)}
        assert after[path] == pytest.approx(value, rel=1e-12), path
        moved = {other for other in after if abs(after[other] - known[other].value) > 1e-12} - {path}
        owner = path.rpartition(".")[0]
        for other in moved:
            # a length and its placement; a stroke and its end; a pose's angles, where pitch is a quarter turn
            along = other.endswith((".length", ".stroke")) or path.endswith((".length", ".stroke"))
            assert along or other.rpartition(".")[0] == owner or owner in other, (path, other)


def test_a_longer_link_moves_what_is_beyond_and_keeps_its_own_body(cell: aw.CellDescription) -> None:
    made = with_numbers(cell, {"arm.links[turret].length": "400 mm"})
    before, after = cell.arm.joints[1].placement, made.arm.joints[1].placement
    assert np.linalg.norm(after[:3, 3]) == pytest.approx(0.4)
    assert np.cross(before[:3, 3], after[:3, 3]) == pytest.approx(np.zeros(3))
    assert (after[:3, :3] == before[:3, :3]).all()
    assert made.arm.links == cell.arm.links and made.arm.joints[2:] == cell.arm.joints[2:]
    last = with_numbers(cell, {"arm.links[flange].length": 0.05})
    assert last.arm.flange[:3, 3] == pytest.approx((0.05, 0, 0))


def test_a_motor_told_by_a_curve_is_scaled_whole(cell: aw.CellDescription) -> None:
    motor = "arm.joints[axis 2].drive.motor"
    made = with_numbers(cell, {f"{motor}.continuous": 3.0, f"{motor}.peak": "12 N*m"})
    old, new = design_part(cell, motor), design_part(made, motor)
    for curve, factor in (("continuous_curve", 3.0 / 3.3), ("peak_curve", 12 / 9.6)):
        before, after = (np.array(getattr(each, curve)) for each in (old, new))
        assert (after[:, 0] == before[:, 0]).all()
        assert after[:, 1] == pytest.approx(before[:, 1] * factor)


def test_a_peak_that_was_equal_goes_along() -> None:
    arm = positioner()
    joints = tuple(replace(joint, torque_peak=joint.torque_continuous) for joint in arm.joints)
    cell = aw.CellDescription(replace(arm, joints=joints), track=aw.Track("x", 1, force_continuous=200.0))
    made = with_numbers(cell, {"arm.joints[axis 2].torque_continuous": 170, "track.force_continuous": "250 N"})
    assert (made.arm.joints[1].torque_continuous, made.arm.joints[1].torque_peak) == (170, 170)
    assert made.track is not None and made.track.force_peak == 250


def test_numbers_that_only_go_together_are_taken_in_any_order(cell: aw.CellDescription) -> None:
    both = {f"{GEAR}.rated_torque": 900, f"{GEAR}.repeated_peak_torque": 1000}
    for values in (both, dict(reversed(both.items()))):
        stage = design_part(with_numbers(cell, values), GEAR)
        assert (stage.rated_torque, stage.repeated_peak_torque) == (900, 1000)
    with pytest.raises(aw.InputError, match=r"repeated_peak_torque.*at least the rated torque"):
        with_numbers(cell, {f"{GEAR}.rated_torque": 900})


def test_a_part_takes_the_place_of_another(cell: aw.CellDescription) -> None:
    motor = aw.Motor(5.0, 15.0, "4000 rpm", name="bigger")
    made = with_numbers(cell, {"arm.joints[axis 2].drive.motor": motor, "arm.joints[axis 6].drive.brake": aw.Brake(1)})
    assert design_part(made, "arm.joints[axis 2].drive.motor") is motor
    assert design_number(made, "arm.joints[axis 6].drive.brake.torque").value == 1
    assert with_numbers(made, {"tool": None}).tool is None


def test_what_was_not_told_can_be_set(cell: aw.CellDescription) -> None:
    path = "arm.joints[axis 2].jerk"
    with pytest.raises(aw.InputError, match="nothing told"):
        design_number(cell, path)
    assert design_number(with_numbers(cell, {path: "900 deg/s^3"}), path).value == pytest.approx(math.radians(900))


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"arm.links[uper arm].mass": 1}, r"did you mean .arm\.links\[upper arm\]\.mass"),
        ({"tool.weight": 1}, "no such number"),
        ({"": 1}, "no such number"),
        ({3: 1}, "no such number"),
        ({"tool.mass": -1}, r"tool\.mass: got -1, expected a mass"),
        ({"tool.mass": "1 mm"}, "expected a unit of mass"),
        ({"tool.mass": math.nan}, r"tool\.mass: got nan"),
        ({"tool.mass": None}, r"tool\.mass"),
        ({"tool.mass": [1, 2]}, r"tool\.mass"),
        ({f"{GEAR}.ratio": 0}, "ratio other than 0"),
        ({f"{GEAR}": 7}, "expected a Stage"),
        ({f"{GEAR}": aw.Motor(1, max_speed=1)}, "Stage"),
        ({"arm.links[upper arm].length": 0}, "length"),
        ({"track.stroke": "-1 m"}, "length"),
        ({"arm.joints[axis 1].range.lower": 3}, "lower limit below the upper one"),
        ({"arm.links[flange].inertia.xx": 1}, "none larger than the sum"),
    ],
)
def test_what_cannot_be_is_refused_by_name(cell: aw.CellDescription, values: dict[str, object], words: str) -> None:
    with pytest.raises(aw.InputError, match=words):
        with_numbers(cell, values)


def test_members_that_share_a_name_go_by_their_place() -> None:
    shapes = (aw.Sphere(0.1), aw.Sphere(0.2), aw.Sphere(0.3, name="knob"))
    cell = aw.CellDescription(positioner(), tool=aw.Tool(shapes=shapes))
    assert design_number(cell, "tool.shapes[1].radius").value == 0.2
    assert design_number(cell, "tool.shapes[knob].radius").value == 0.3


def test_a_mesh_is_moved_without_its_file() -> None:
    corners = np.array([(0, 0, 0), (1, 0, 0), (0, 1, 0), (0, 0, 1)], float)
    cell = aw.CellDescription(positioner(), fixtures=(aw.ConvexHull(corners, name="wedge"),))
    made = with_numbers(cell, {"fixtures[wedge].pose.x": "2 m", "fixtures[wedge].clearance": "10 mm"})
    assert made.fixtures[0].pose[0, 3] == 2 and made.fixtures[0].clearance == 0.01
    with pytest.raises(aw.InputError, match="clearance"):
        with_numbers(cell, {"fixtures[wedge].clearance": -1})


def test_a_cell_gives_and_takes_its_numbers(cell: aw.CellDescription) -> None:
    made = aw.Cell.from_description(cell)
    masses = made.design_numbers("links[upper arm].mass")
    assert repr(masses) == "arm.links[upper arm].mass = 13.2 kg ± 1.06 kg"
    assert repr(made.design_numbers("no such")) == "no design numbers"
    lighter = made.with_numbers({"arm.links[upper arm].mass": "10 kg ± 5 %"})
    assert repr(lighter.design_number("arm.links[upper arm].mass")) == "arm.links[upper arm].mass = 10 kg ± 0.5 kg"
    assert lighter.digest() != made.digest() and made.design_number("arm.links[upper arm].mass").value == 13.2
    for wrong in (7, "tool.mass", None):
        with pytest.raises(aw.InputError):
            made.with_numbers(wrong)  # type: ignore[arg-type]
    with pytest.raises(aw.InputError):
        made.design_numbers(3)  # type: ignore[arg-type]
