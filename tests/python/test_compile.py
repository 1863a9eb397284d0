# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from armwright import compile as door
from armwright._core import kinematics, model
from armwright.describe import (
    Box,
    Capsule,
    CellDescription,
    ConvexHull,
    Counterbalance,
    Cylinder,
    HalfSpace,
    Link,
    Load,
    Mesh,
    Sphere,
    Tool,
    Track,
    load_arm,
    load_cell,
)  # fmt: skip
from armwright.errors import InputError
from cases.description_files import chain_pose, small_arm, tetrahedron, write_cell
from cases.drive_files import write_driven


def test_a_cell_from_files(tmp_path: Path) -> None:
    cell = load_cell(write_cell(tmp_path))
    made = door.compile_cell(cell)
    assert made.joint_names == ["track", "axis 1", "shoulder", "axis 3"]
    assert made.has_track
    assert made.lower == pytest.approx([0, *[joint.lower for joint in cell.arm.joints]])
    assert made.torque_continuous == pytest.approx([600, *[joint.torque_continuous for joint in cell.arm.joints]])
    assert made.load.mass == 6
    q = np.array([[0.5, 0.3, -0.7, 1.1]])
    expected = chain_pose(cell.arm, q[0, 1:])
    expected[:3, 3] += (0.5, 0, 0.15)
    expected = expected @ cell.tool.tool_point  # type: ignore[union-attr]
    assert np.asarray(kinematics.tool_poses(made, q)).reshape(4, 4) == pytest.approx(expected, abs=1e-12)


def test_every_shape() -> None:
    shapes = (
        Box((1, 2, 3), (0, 0, 1), "b", 0.1), Cylinder(1, 2), Capsule(3, 4), Sphere(5), HalfSpace(), ConvexHull(tetrahedron()[0]),
        Mesh(tetrahedron()),
    )  # fmt: skip
    specs = door.shape_specs(shapes)
    assert [spec.kind.name for spec in specs] == [
        "box",
        "cylinder",
        "capsule",
        "sphere",
        "half_space",
        "convex_hull",
        "mesh",
    ]
    assert tuple(specs[0].size) == (1, 2, 3)
    assert (specs[0].name, specs[0].clearance) == ("b", 0.1)
    assert tuple(specs[0].pose[:3, 3]) == (0, 0, 1)
    assert [(spec.radius, spec.length) for spec in specs[1:4]] == [(1, 2), (3, 4), (5, 0)]


def test_shapes_of_parts_without_names_go_by_their_part() -> None:
    specs = door.part_specs(
        [Sphere(1), Sphere(1, name="motor"), Box((1, 1, 1)), HalfSpace(), ConvexHull(tetrahedron()[0])]
    )
    assert [spec.name for spec in specs] == ["", "motor", "", "", ""]
    assert [spec.name for spec in door.shape_specs([Sphere(1)])] == ["sphere"]


def test_everything_arrives() -> None:
    cell = CellDescription(
        small_arm(), Track("x", (-1, 2), (0, 1, 0), Link("sledge", 40), [Sphere(1)], 100, 200), [Box((1, 1, 1))],
        Tool((0, 0, 0.1), 2, (0, 0, 0.05), (0.1, 0.1, 0.1), name="fork"), Load(6, (0, 0, 0.2)), (), (0, 0, 0.3), (0, 0, 9.8),
        [("a", "box")],
    )  # fmt: skip
    spec = door.cell_spec(cell)
    assert spec.track is not None and spec.load is not None
    assert (spec.track.lower, spec.track.upper, spec.track.force_continuous, spec.track.force_peak) == (-1, 2, 100, 200)
    assert (spec.track.carriage.name, spec.track.carriage.inertia.mass, len(spec.track.rails)) == ("sledge", 40, 1)
    assert (spec.tool.name, spec.tool.inertia.mass, spec.tool.inertia.tensor[2, 2]) == ("fork", 2, 0.1)
    assert tuple(spec.load.inertia.centre) == (0, 0, 0.2)
    assert tuple(spec.mount[:3, 3]) == (0, 0, 0.3)
    assert tuple(spec.gravity) == (0, 0, 9.8)
    assert spec.ignored_pairs == [("a", "box")]
    assert (spec.arm.name, spec.arm.flange[2, 3]) == ("small", 0.1)
    assert (spec.arm.joints[0].torque_continuous, spec.arm.joints[0].torque_peak) == (50, 80)


def test_refusals_of_the_core_end_in_the_one_exception() -> None:
    spec = door.cell_spec(CellDescription(small_arm()))
    spec.gravity = np.array((0, 0, np.nan))
    with pytest.raises(InputError, match=r"^gravity: got .*, expected finite numbers$"):
        door.compile_spec(spec)
    with pytest.raises(InputError, match=r"^joints: got 0"):
        door.compile_spec(model.CellSpec())


def test_too_many_joints_with_a_track() -> None:
    from armwright.describe import ArmDescription, Joint

    arm = ArmDescription([Joint(f"a{i}") for i in range(12)], [Link(f"l{i}", 1) for i in range(12)])  # type: ignore[arg-type]
    assert door.compile_cell(CellDescription(arm)).joint_count == 12
    with pytest.raises(InputError, match=r"^joints: got 13, expected 1 to 12"):
        door.compile_cell(CellDescription(arm, Track("x", 1)))


def test_drives(tmp_path: Path) -> None:
    arm = load_arm(write_driven(tmp_path))
    spec = door.arm_spec(arm)
    first, second = spec.joints
    assert first.drive is not None and second.drive is not None
    motor, stage = first.drive.motor, first.drive.stages[0]
    assert np.array(motor.continuous) == pytest.approx(np.array([(0, 2.4), (100 * math.pi, 2.4), (200 * math.pi, 1.2)]))
    assert (motor.rotor_inertia, motor.winding_loss, motor.torque_constant) == pytest.approx((9e-5, 5, 0.6))
    assert motor.encoder_counts == 131072
    assert (stage.ratio, stage.efficiency, stage.efficiency_back, stage.rated_torque) == (101, 0.75, 0.7, 67)
    assert (stage.repeated_peak_torque, stage.momentary_peak_torque, stage.rated_life) == (157, 284, 7000 * 3600)
    assert (stage.max_input_speed, stage.mean_input_speed) == pytest.approx((5600 * math.pi / 30, 3500 * math.pi / 30))
    assert (stage.inertia, stage.backlash, stage.life_exponent) == pytest.approx((4e-5, math.pi / 10800, 3))
    brake = first.drive.brake
    assert brake is not None
    assert (brake.torque, brake.side, brake.delay, brake.energy_per_stop) == (2.5, model.BrakeSide.motor, 0.03, 60)
    friction = first.drive.joint_friction
    assert (friction.coulomb_forward, friction.coulomb_backward, friction.viscous) == (2, 3, 0.1)
    assert first.drive.motor_friction.coulomb_backward == 0.02
    assert second.drive.brake is None and [stage.name for stage in second.drive.stages] == ["belt", "screw"]
    assert (second.speed, second.acceleration) == (0.4, math.inf)
    assert spec.coupling == [1, 0, -0.5, 1]
    spring = spec.springs[0]
    assert (spring.link_a, spring.link_b, spring.length, spring.pull, spring.rate) == (-1, 1, 0.2, 30, 2000)
    assert tuple(spring.point_b) == (0, 0.05, 0.02) and spring.pulls_only
    # A mass counts with its link: 12 kg at x = 0 and 4 kg at x = -0.3 m, by Steiner's theorem.
    turret = spec.links[0].inertia
    assert turret.mass == 16 and turret.centre == pytest.approx((-0.075, 0, 0.06))
    assert turret.tensor[2, 2] == pytest.approx(12 * 0.075**2 + 4 * 0.225**2)


def test_what_a_drive_holds(tmp_path: Path) -> None:
    """The least of motor x ratio x efficiency and what the stages bear, by hand."""
    made = door.compile_cell(CellDescription(load_arm(write_driven(tmp_path))))
    screw = 2 * math.pi / 0.01
    assert made.torque_continuous == pytest.approx([67, min(2000, 1.3 * 2 * 0.96 * screw * 0.9)])
    assert made.torque_peak == pytest.approx([157, 2000])
    assert made.continuous_parts == ["size 25", "motor"] and made.peak_parts == ["size 25", "screw"]
    assert made.speed == pytest.approx([math.pi, 0.4]) and made.has_drives


def test_a_weight_on_the_base_and_on_a_link(tmp_path: Path) -> None:
    arm = replace(small_arm(), counterbalances=(Counterbalance("mass", "base", (1, 0, 0), mass=3),))
    spec = door.arm_spec(arm)
    assert spec.base_link.inertia.mass == 3 and tuple(spec.base_link.inertia.centre) == (1, 0, 0)
    assert spec.springs == []
