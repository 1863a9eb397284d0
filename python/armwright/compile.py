"""The one door from descriptions to the core: everything after it is SI, checked and constant."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any

import numpy as np
from numpy.typing import NDArray

from armwright._core import Refused, clearance, model
from armwright.describe import (
    ArmDescription,
    Box,
    Brake,
    Capsule,
    CellDescription,
    ConvexHull,
    Counterbalance,
    Cylinder,
    Drive,
    Friction,
    Joint,
    Link,
    Load,
    Mesh,
    Motor,
    Shape,
    Sphere,
    Stage,
    Target,
    Tool,
    Track,
)  # fmt: skip
from armwright.describe.body import joined
from armwright.describe.shape_names import is_unnamed, kind_of
from armwright.errors import InputError


def compile_cell(cell: CellDescription) -> model.Model:
    """The constant model of a cell. What the core refuses ends in InputError."""
    return compile_spec(cell_spec(cell))


def compile_spec(spec: model.CellSpec) -> model.Model:
    """The constant model of a specification, for callers that need the specification for a scene too."""
    with _told():
        return model.compile(spec)


def build_scene(spec: model.CellSpec, compiled: model.Model) -> clearance.Scene:
    """The solids of a specification, made ready for distances."""
    with _told():
        return clearance.build_scene(spec, compiled)


def build_volume(
    spec: model.CellSpec, compiled: model.Model, link: str, shapes: Iterable[Shape]
) -> clearance.Volume:
    """Solids that move with a link and are held against all else in a specification, made ready for distances."""
    with _told():
        return clearance.build_volume(spec, compiled, link, shape_specs(shapes))


@contextmanager
def _told() -> Iterator[None]:
    """What the core refuses ends in InputError."""
    try:
        yield
    except Refused as refused:
        raise InputError.of(*refused.args) from None


def cell_spec(cell: CellDescription) -> model.CellSpec:
    """The specification of a cell, SI."""
    spec = model.CellSpec()
    spec.arm = arm_spec(cell.arm)
    spec.mount = cell.mount
    if cell.track is not None:
        spec.track = track_spec(cell.track)
    if cell.tool is not None:
        spec.tool = tool_spec(cell.tool)
    if cell.load is not None:
        spec.load = load_spec(cell.load)
    spec.fixtures = shape_specs(cell.fixtures)
    spec.gravity = cell.gravity
    spec.ignored_pairs = list(cell.ignored_pairs)
    return spec


def arm_spec(arm: ArmDescription) -> model.ArmSpec:
    spec = model.ArmSpec()
    spec.name = arm.name
    spec.base_link = link_spec(arm.base_link)
    spec.joints = [joint_spec(joint) for joint in arm.joints]
    spec.links = [link_spec(link) for link in arm.links]
    spec.flange = arm.flange
    names = list(arm.link_names)
    masses = [item for item in arm.counterbalances if item.kind == "mass"]
    for item in masses:
        at = names.index(item.link_a)
        links = [spec.base_link, *spec.links]
        links[at].inertia = _with_mass(links[at].inertia, item)
        spec.base_link, spec.links = links[0], links[1:]
    spec.springs = [spring_spec(item, names) for item in arm.counterbalances if item.kind != "mass"]
    if arm.coupling is not None:
        spec.coupling = arm.coupling.ravel().tolist()
    return spec


def _with_mass(inertia: model.Inertia, mass: Counterbalance) -> model.Inertia:
    point = (float(mass.mass), mass.point_a, np.zeros((3, 3)))
    return model.Inertia(*joined([(inertia.mass, inertia.centre, inertia.tensor), point]))


def spring_spec(spring: Counterbalance, link_names: list[str]) -> model.SpringSpec:
    """``link_names``: the base first, which the core calls -1."""
    spec = model.SpringSpec()
    spec.name = spring.name
    spec.link_a, spec.link_b = link_names.index(spring.link_a) - 1, link_names.index(str(spring.link_b)) - 1
    spec.point_a, spec.point_b = spring.point_a, spring.point_b
    _set(spec, spring.spring)
    return spec


def _set(spec: Any, values: Mapping[str, Any]) -> None:
    for key, value in values.items():
        setattr(spec, key, value)


def joint_spec(joint: Joint) -> model.JointSpec:
    spec = model.JointSpec()
    spec.name = joint.name
    spec.kind = model.JointKind.prismatic if joint.kind == "prismatic" else model.JointKind.revolute
    spec.placement = joint.placement
    spec.axis = joint.axis
    spec.lower, spec.upper = joint.lower, joint.upper
    spec.torque_continuous, spec.torque_peak = joint.torque_continuous, joint.torque_peak
    spec.speed, spec.acceleration, spec.jerk = joint.speed, joint.acceleration, joint.jerk
    if joint.drive is not None:
        spec.drive = drive_spec(joint.drive)
    return spec


def drive_spec(drive: Drive) -> model.DriveSpec:
    spec = model.DriveSpec()
    spec.motor = motor_spec(drive.motor)
    spec.stages = [stage_spec(stage) for stage in drive.stages]
    if drive.brake is not None:
        spec.brake = brake_spec(drive.brake)
    if drive.friction is not None:
        spec.joint_friction = friction_spec(drive.friction)
    if drive.motor_friction is not None:
        spec.motor_friction = friction_spec(drive.motor_friction)
    return spec


def motor_spec(motor: Motor) -> model.MotorSpec:
    spec = model.MotorSpec()
    spec.name = motor.name
    spec.continuous, spec.peak = list(motor.continuous_curve), list(motor.peak_curve)
    spec.rotor_inertia, spec.winding_loss = motor.rotor_inertia or 0.0, motor.loss_factor
    spec.torque_constant, spec.encoder_counts = motor.torque_constant or 0.0, motor.counts
    return spec


def stage_spec(stage: Stage) -> model.StageSpec:
    spec = model.StageSpec()
    spec.name = str(stage.name)
    _set(spec, stage.numbers)
    return spec


def brake_spec(brake: Brake) -> model.BrakeSpec:
    spec = model.BrakeSpec()
    spec.torque, spec.delay = brake.torque, brake.closing
    spec.side = model.BrakeSide.joint if brake.side == "joint" else model.BrakeSide.motor
    if brake.energy is not None:
        spec.energy_per_stop = brake.energy
    return spec


def friction_spec(friction: Friction) -> model.FrictionSpec:
    spec = model.FrictionSpec()
    spec.coulomb_forward, spec.coulomb_backward = friction.coulomb
    spec.viscous = friction.viscous
    return spec


def link_spec(link: Link) -> model.LinkSpec:
    spec = model.LinkSpec()
    spec.name = link.name
    spec.told_frame = link.frame
    spec.inertia = inertia_of(link)
    spec.shapes = part_specs(link.shapes)
    return spec


def track_spec(track: Track) -> model.TrackSpec:
    spec = model.TrackSpec()
    spec.pose = track.pose
    spec.axis = track.axis
    spec.lower, spec.upper = track.lower, track.upper
    spec.carriage = link_spec(track.carriage)
    spec.rails = part_specs(track.rails)
    spec.force_continuous, spec.force_peak = track.force_continuous, track.force_peak
    spec.speed, spec.acceleration, spec.jerk = track.speed, track.acceleration, track.jerk
    if track.drive is not None:
        spec.drive = drive_spec(track.drive)
    return spec


def tool_spec(tool: Tool) -> model.ToolSpec:
    spec = model.ToolSpec()
    spec.name = tool.name
    spec.tool_point = tool.tool_point
    spec.inertia = inertia_of(tool)
    spec.shapes = part_specs(tool.shapes)
    return spec


def load_spec(load: Load) -> model.LoadSpec:
    spec = model.LoadSpec()
    spec.name = load.name
    spec.inertia = inertia_of(load)
    spec.shapes = part_specs(load.shapes)
    return spec


def target_specs(
    cell: CellDescription, targets: Iterable[Target], centre: NDArray[np.float64] | None = None
) -> list[model.TargetSpec]:
    """Work points, each with the load to be held there: its own, else the cell's, else none. ``centre``: where its
    centre of gravity counts, m, from the tool frame; where the load has it unless given."""
    specs = []
    for target in targets:
        spec = model.TargetSpec()
        spec.name, spec.pose = target.name, target.pose
        spec.free_spin, spec.tilt = target.free_spin, float(target.tilt)
        spec.tolerance = float(target.position_tolerance)
        load = target.load or cell.load
        spec.mass = float(load.mass) if load else 0.0
        if load is not None or centre is not None:
            spec.load_centre = load.centre if centre is None else centre  # type: ignore[union-attr]
        specs.append(spec)
    return specs


def inertia_of(part: Link | Tool | Load) -> model.Inertia:
    """Mass, centre and tensor, in the part's own frame."""
    return model.Inertia(part.mass, part.centre, part.inertia)


def shape_specs(shapes: Iterable[Shape]) -> list[model.ShapeSpec]:
    return [shape_spec(shape) for shape in shapes]


def part_specs(shapes: Iterable[Shape]) -> list[model.ShapeSpec]:
    """Of a link, tool or load: a shape that was given no name of its own goes by its part's, which an empty one stands
    for."""
    specs = shape_specs(shapes)
    for spec, shape in zip(specs, shapes, strict=True):
        if shape.clearance > 0:
            raise InputError.of(
                f"{shape.name}.clearance", f"{shape.clearance:g} m", "0 m: what moves keeps the fixtures' clearance"
            )
        if is_unnamed(shape):
            spec.name = ""
    return specs


def shape_spec(shape: Shape) -> model.ShapeSpec:
    spec = model.ShapeSpec()
    spec.kind = getattr(model.ShapeKind, kind_of(shape))
    spec.name = shape.name
    spec.pose = shape.pose
    spec.clearance = shape.clearance
    if isinstance(shape, Box):
        spec.size = shape.size
    elif isinstance(shape, Cylinder | Capsule):
        spec.radius, spec.length = shape.radius, shape.length
    elif isinstance(shape, ConvexHull | Mesh):
        spec.set_points(shape.points)
        if isinstance(shape, Mesh):
            spec.set_triangles(shape.triangles)
    elif isinstance(shape, Sphere):
        spec.radius = shape.radius
    return spec
