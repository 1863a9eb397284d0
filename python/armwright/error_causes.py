"""What a description tells of why the tool may stand elsewhere than it should: play, encoders, tolerances of places."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from armwright import _core
from armwright.describe import CellDescription, Drive
from armwright.describe.pose import Array, angle_axes
from armwright.describe.toleranced import tolerance_of
from armwright.studies.tool_error import Axes, Cause

SIX = ("x", "y", "z", "roll", "pitch", "yaw")


class Causes(NamedTuple):
    """All that are told, and in words what is not."""

    told: tuple[Cause, ...]
    missing: tuple[str, ...]


def causes_of(cell: CellDescription, model: _core.model.Model) -> Causes:
    """Every cause of error that a cell tells of, and what it does not tell."""
    missing: list[str] = []
    told = [*_driven(cell, model, missing), *_placed(cell, model, missing)]
    return Causes(tuple(told), tuple(missing))


def axes_of(cell: CellDescription, model: _core.model.Model) -> Axes:
    """How drives and joints go together, and the friction at the joints."""
    first, count = 0 if cell.track is None else 1, int(model.joint_count)
    coupling = np.eye(count)
    if cell.arm.coupling is not None:
        coupling[first:, first:] = cell.arm.coupling
    told = [drive.friction if drive is not None else None for drive in _drives(cell)]
    return Axes(coupling, np.array([0.0 if friction is None else max(friction.coulomb) for friction in told]))


def _drives(cell: CellDescription) -> list[Drive | None]:
    drives = [joint.drive for joint in cell.arm.joints]
    return drives if cell.track is None else [cell.track.drive, *drives]


def _driven(cell: CellDescription, model: _core.model.Model, missing: list[str]) -> Iterator[Cause]:
    coupling = axes_of(cell, model).coupling
    for k, (name, drive) in enumerate(zip(model.joint_names, _drives(cell), strict=True)):
        if drive is None:
            missing.append(f"{name}: no drive, so that neither play nor encoder is known")
            continue
        slides = bool(model.joint_kinds[k] == _core.model.JointKind.prismatic)
        for what, kind, amount in _of_drive(name, drive, missing):
            yield Cause(what, kind, amount, "m" if slides else "rad", joints=coupling[:, k] * amount)


def _of_drive(name: str, drive: Drive, missing: list[str]) -> Iterator[tuple[str, str, float]]:
    """What stands off at the output of a drive: half of each stage's play, over the gains of the stages after it; half
    an encoder count of the motor, over the gains of all."""
    stages = drive.stages
    for i, stage in enumerate(stages):
        if stage.backlash is None and stage.kind == "direct":
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
    turn, axes = before[:3, :3], angle_axes(pose[:3, :3]).T
    for i, word in enumerate(SIX):
        amount = float(tolerance[i])
        if amount == 0:
            continue
        none = np.zeros(3)
        shift, axis = (turn[:, i] * amount, none) if i < 3 else (none, turn @ axes[i - 3] * amount)
        unit = "m" if i < 3 else "rad"
        yield Cause(f"{name}, {word}", "placement", amount, unit, frame, (before @ pose)[:3, 3], shift, axis)
