"""What makes the tool stand elsewhere than it should: play, encoders, tolerances of places; as the core takes it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from armwright import _core
from armwright.describe import CellDescription, Drive
from armwright.describe.pose import Array, angles_of, turn_about
from armwright.describe.toleranced import tolerance_of

SIX = ("x", "y", "z", "roll", "pitch", "yaw")
KINDS = ("backlash", "encoder", "placement")


class Cause(NamedTuple):
    """A cause, with the most that it is off either way, in ``unit``. ``kind``: one of KINDS."""

    name: str
    kind: str
    amount: float
    unit: str
    move: _core.kinematics.SmallMove


class Causes(NamedTuple):
    """All that are told, and in words what is not."""

    told: tuple[Cause, ...]
    missing: tuple[str, ...]


def causes_of(cell: CellDescription, model: _core.model.Model) -> Causes:
    """Every cause of error that a cell tells of, and what it does not tell."""
    missing: list[str] = []
    told = [*_driven(cell, model, missing), *_placed(cell, model, missing)]
    return Causes(tuple(told), tuple(missing))


def _driven(cell: CellDescription, model: _core.model.Model, missing: list[str]) -> Iterator[Cause]:
    drives = [joint.drive for joint in cell.arm.joints]
    first = 0
    if cell.track is not None:
        drives, first = [cell.track.drive, *drives], 1
    count = int(model.joint_count)
    coupling = np.eye(count)
    if cell.arm.coupling is not None:
        coupling[first:, first:] = cell.arm.coupling
    for k, (name, drive) in enumerate(zip(model.joint_names, drives, strict=True)):
        if drive is None:
            missing.append(f"{name}: no drive, so that neither play nor encoder is known")
            continue
        slides = bool(model.joint_kinds[k] == _core.model.JointKind.prismatic)
        for what, kind, amount in _of_drive(name, drive, missing):
            move = _core.kinematics.SmallMove()
            move.joints = (coupling[:, k] * amount).tolist()
            yield Cause(what, kind, amount, "m" if slides else "rad", move)


def _of_drive(name: str, drive: Drive, missing: list[str]) -> Iterator[tuple[str, str, float]]:
    """What stands off at the output of a drive: half of each stage's play, over the gains of the stages after it; half
    an encoder count of the motor, over the gains of all."""
    stages = drive.stages
    for i, stage in enumerate(stages):
        if stage.kind == "direct":
            continue
        if stage.backlash is None:
            missing.append(f"{name}, {stage.name}: no backlash told")
        elif stage.backlash > 0:
            after = math.prod(abs(later.gain) for later in stages[i + 1 :])
            yield f"{name}, {stage.name}: backlash", "backlash", float(stage.backlash) / (2 * after)
    if drive.motor.counts > 0:
        yield f"{name}: encoder", "encoder", math.pi / drive.motor.counts / abs(drive.ratio)
    else:
        missing.append(f"{name}, {drive.motor.name}: no encoder told")


def _placed(cell: CellDescription, model: _core.model.Model, missing: list[str]) -> Iterator[Cause]:
    """Tolerances of the places along the chain. Each is told in the frame of what comes before it."""
    frames = list(model.link_frames)
    arm, first = cell.arm, 0
    root, on = np.eye(4), -1  # the frame that the mount is told in, in joint frame `on` (-1: the world)
    places: list[tuple[str, int, Array, Array]] = []  # name, joint frame, frame before in it, pose with its tolerances
    if cell.track is not None:
        places.append(("track", -1, np.eye(4), cell.track.pose))
        root, on, first = frames[0], 0, 1
    places.append(("mount", on, root, cell.mount))
    before = root @ np.asarray(cell.mount)
    for i, joint in enumerate(arm.joints):
        places.append((f"{joint.name}: place", on, before, joint.placement))
        on = first + i
        before = frames[on]
    places.append(("flange", on, before, arm.flange))
    if cell.tool is not None:
        places.append(("tool point", on, before @ np.asarray(arm.flange), cell.tool.tool_point))
    untold = []
    for name, frame, before, pose in places:
        tolerance = tolerance_of(pose)
        if tolerance is None:
            untold.append(name.removesuffix(": place"))
            continue
        yield from _of_place(name, frame, np.asarray(before), np.asarray(pose), tolerance)
    if untold:
        missing.append("places told without a tolerance: " + ", ".join(untold))


def _of_place(name: str, frame: int, before: Array, pose: Array, tolerance: Array) -> Iterator[Cause]:
    """A cause for each of x, y, z, roll, pitch, yaw that is unsure. Positions go along the axes of the frame before;
    roll, pitch and yaw turn about the place's own point, each about the axis that it has there."""
    turn, (_, pitch, yaw) = before[:3, :3], angles_of(pose[:3, :3])
    by_yaw = turn_about((0, 0, 1), yaw)
    axes = (by_yaw @ turn_about((0, 1, 0), pitch) @ (1.0, 0, 0), by_yaw @ (0, 1.0, 0), np.array((0, 0, 1.0)))
    for i, word in enumerate(SIX):
        amount = float(tolerance[i])
        if amount == 0:
            continue
        move = _core.kinematics.SmallMove()
        move.frame, move.point = frame, (before @ pose)[:3, 3]
        if i < 3:
            move.shift = turn[:, i] * amount
        else:
            move.turn = turn @ axes[i - 3] * amount
        yield Cause(f"{name}, {word}", "placement", amount, "m" if i < 3 else "rad", move)
