"""What a cycle tries at a work point where the attitude as told does not do: more places of the joints that a pose
leaves free and more spins, then the tilt cone from the middle out; at last the very answer of check_targets. The
attitudes and the postures in them are those of the core's target check."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from armwright import _core
from armwright.errors import InputError
from armwright.studies import defaults, run

Floats = NDArray[np.float64]
spin_steps = tuple(float(run.turn_step) / 2**k for k in range(3))  # rad, as the target check narrows them
ring_step = spin_steps[-1]  # rad, between the rings of a cone


def rings(spec: _core.model.TargetSpec) -> list[Floats]:
    """Directions of the tool's axis within the cone, (n, 3) each, from the innermost out; without the middle."""
    return [np.asarray(ring) for ring in _core.studies.tilt_rings(spec, ring_step)[1:]]


def lean(pose: Floats, axis: Floats) -> float:
    """How far a direction leans from the tool's axis of a pose, rad."""
    return math.atan2(float(np.linalg.norm(np.cross(pose[:3, 2], axis))), float(pose[:3, 2] @ axis))


def further(inverse: _core.kinematics.ArmInverse, spec: _core.model.TargetSpec) -> Iterator[Floats]:
    """Postures within the joint limits, nearest attitude first: sets of rows, the first that has a good one counts."""
    try:
        step = run.track_step_of(inverse, defaults.track_step)
    except InputError:
        return  # too many joints beyond what a pose needs: the target check refuses such an arm
    search = _core.studies.make_search(inverse, None, 0.0, step, run.turn_step)
    steps = spin_steps if spec.free_spin else spin_steps[-1:]
    axis = np.asarray(spec.pose)[None, :3, 2]
    for directions, spins in [(axis, steps)] + ([(ring, steps[:1]) for ring in rings(spec)] if spec.tilt > 0 else []):
        for spin in spins:
            yield np.asarray(_core.studies.work_point_postures(search, spec, directions, spin))
    for spin in steps[1:] if spec.tilt > 0 else ():
        for ring in rings(spec):
            yield np.asarray(_core.studies.work_point_postures(search, spec, ring, spin))


def checked(
    inverse: _core.kinematics.ArmInverse, spec: _core.model.TargetSpec, scenes: Sequence[_core.clearance.Scene]
) -> list[_core.studies.TargetAnswer]:
    """What the target check finds for the point with each of the solids."""
    step = run.track_step_of(inverse, defaults.track_step)
    order = [getattr(_core.studies.Merit, name) for name in defaults.order]
    limit, found = _core.limits.Limit.continuous, []
    for scene in scenes:
        search = _core.studies.make_search(inverse, scene, 0.0, step, run.turn_step)
        found += _core.studies.check_targets(search, [spec], limit, run.turn_step, order, 1, None)
    return found


def ends_of_ways(spec: _core.model.TargetSpec, start: Floats) -> Iterator[list[Floats]]:
    """Poses at which a way of the tool from the attitude ``start`` may end within the cone, nearest to the middle
    first: ring by ring, and before the ring about it the start's own attitude as it is."""
    own = lean(np.asarray(spec.pose), start[:, 2])
    sets = rings(spec)
    leans = [0.0, *(lean(np.asarray(spec.pose), ring[0]) for ring in sets)]
    for (inner, outer), ring in zip(pairwise(leans), sets, strict=True):
        yield [np.asarray(_core.studies.tilted_pose(spec, start[:, 2]))] if inner < own <= outer else []
        yield [np.asarray(_core.studies.tilted_pose(spec, direction)) for direction in ring]


def texts(moves: Sequence[tuple[str, Any, float]]) -> list[str]:
    """In words, what of the work points' freedom a cycle uses: of each move its name, its work point or None, and how
    far the tool's axis leans at its end, rad."""
    told = []
    leaning = [f'"{name}" by {math.degrees(angle):.3g}°' for name, target, angle in moves if target and angle > 0]
    if leaning:
        told.append("the tool leans from a work point's attitude, within its tilt cone, since it does not go there as "
                    "told: at the end of " + ", ".join(leaning))  # fmt: skip
    names = dict.fromkeys(target.name for _, target, _ in moves if target and target.position_tolerance > 0)
    if names:
        told.append("moves go to the middle of the position tolerance of " + ", ".join(f'"{name}"' for name in names))
    return told
