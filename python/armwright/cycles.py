"""From a described cycle to what the core plans: names to poses, through-points to moves, limits to the lower ones."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from typing import TYPE_CHECKING, Any

import numpy as np

from armwright import _core, attitudes
from armwright.chains import choose
from armwright.compile import compile_cell, inertia_of
from armwright.describe import (
    ArcMove,
    CellDescription,
    Cycle,
    Dwell,
    JointMove,
    LineMove,
    Load,
    PickUp,
    SetDown,
    Target,
)
from armwright.describe.moves import TOOL_LIMITS, Moving
from armwright.errors import InputError
from armwright.postures import Goal, Step

if TYPE_CHECKING:
    from armwright.cell import Cell

Motion = _core.motion
_KINDS = {"time-optimal": "time_optimal", "trapezoidal": "trapezoidal", "jerk-limited": "jerk_limited"}
_SPEC_LIMITS = {"tool_speed": "speed", "tool_acceleration": "acceleration", "tool_jerk": "jerk",
                "turn_speed": "turn_speed", "turn_acceleration": "turn_acceleration"}  # fmt: skip

_UPRIGHT = 1e-6  # rad: no lean


@dataclass(frozen=True)
class ResolvedCycle:
    """A cycle as the core plans it. ``model``: with the cycle's own limits of the joints, carrying nothing; ``source``:
    for each of the core's moves its place among the cycle's; ``loads``: what is carried, by the core's index;
    ``tilts``: how far the tool's axis leans from the work point's at each move's end, rad, NaN where the move goes to
    none; ``assumptions``: what of the work points' freedom is used."""

    model: _core.model.Model
    inverse: _core.kinematics.ArmInverse
    spec: _core.motion.CycleSpec
    source: tuple[int, ...]
    names: tuple[str, ...]
    loads: tuple[Load, ...]
    tilts: tuple[float, ...]
    assumptions: tuple[str, ...]


def resolve(cell: Cell, cycle: Cycle) -> ResolvedCycle:
    """The cycle in the cell. InputError names the move that cannot be, and why."""
    if not isinstance(cycle, Cycle):
        raise InputError.of("cycle", type(cycle).__name__, "a Cycle, as load_cycle reads one")
    known = cell.__dict__.setdefault("_resolved_cycles", {})
    if cycle not in known:
        if len(known) > 16:
            known.clear()
        known[cycle] = _resolved(cell, cycle)
    found: ResolvedCycle = known[cycle]
    return found


def _resolved(cell: Cell, cycle: Cycle) -> ResolvedCycle:
    described = limited(cell.description, cycle)
    model = compile_cell(described)
    inverse = _core.kinematics.prepare_inverse(model)
    steps, loads = steps_of(cell, cycle)
    start = goal_of(cell, "start", cycle.start, "point") if cycle.start is not None else None
    postures, poses = choose(cell, model, inverse, steps, start, cycle.repeats, loads)
    spec = Motion.CycleSpec()
    spec.start = postures[0].tolist()
    spec.loads = [inertia_of(load) for load in loads]
    spec.period = float(cycle.period or 0.0)
    moves = [move_spec(cycle, step, q, pose) for step, q, pose in zip(steps, postures[1:], poses, strict=True)]
    spec.moves = moves
    names = tuple(step.name for step in steps)
    targets = [step.goal.target if step.goal else None for step in steps]
    tilts = tilts_of(model, steps, postures[1:])
    return ResolvedCycle(
        model, inverse, spec, tuple(step.source for step in steps), names, tuple(loads), tilts,
        tuple(attitudes.texts(list(zip(names, targets, tilts, strict=True)))),
    )  # fmt: skip


def tilts_of(model: _core.model.Model, steps: list[Step], postures: list[Any]) -> tuple[float, ...]:
    """How far the tool's axis leans from the work point's at each step's end, rad; NaN where it goes to none."""
    poses = _core.kinematics.tool_poses(model, np.ascontiguousarray(postures))
    angles = []
    for step, pose in zip(steps, poses, strict=True):
        goes = step.goal is not None and step.goal.target is not None
        angles.append(attitudes.lean(step.goal.pose, pose[:3, 2]) if goes else np.nan)  # type: ignore[union-attr]
    return tuple(0.0 if angle < _UPRIGHT else angle for angle in angles)


def limited(cell: CellDescription, cycle: Cycle) -> CellDescription:
    """The cell with what the cycle's limits leave of its joints' speed, acceleration and jerk; carrying nothing."""
    kinds = {joint.name: joint.kind for joint in cell.arm.joints}
    if cell.track is not None:
        kinds["track"] = "prismatic"
    changes: dict[str, dict[str, float]] = {}
    for what in ("speed", "acceleration", "jerk"):
        for name, (unit, value) in getattr(cycle.limits, f"joint_{what}"):
            key = f"limits.joint_{what}.{name}"
            if name not in kinds:
                near = get_close_matches(name, kinds, 1, 0.5)
                raise InputError.of(
                    key, f'"{name}"', "the name of a joint: " + ", ".join(kinds), near[0] if near else ""
                )
            slides = kinds[name] == "prismatic"
            if unit and unit.startswith("m") != slides:
                raise InputError.of(
                    key, f"{value:g} {unit}", f"a unit of a joint that {'slides' if slides else 'turns'}"
                )
            changes.setdefault(name, {})[what] = value

    def lowered(joint: Any, name: str) -> Any:
        told = changes.get(name, {})
        return replace(joint, **{what: min(value, getattr(joint, what)) for what, value in told.items()})

    arm = replace(cell.arm, joints=tuple(lowered(joint, joint.name) for joint in cell.arm.joints))
    track = lowered(cell.track, "track") if cell.track is not None else None
    return replace(cell, arm=arm, track=track, load=None)


def steps_of(cell: Cell, cycle: Cycle) -> tuple[list[Step], list[Load]]:
    """The cycle's moves as the core has them: through-points and approaches are moves of their own."""
    steps: list[Step] = []
    loads: list[Load] = []
    carried = -1
    for place, move in enumerate(cycle.moves):
        key = f"moves[{place}]"
        if isinstance(move, PickUp):
            loads.append(load_of(cell, cycle, move, key))
            carried = len(loads) - 1
        elif isinstance(move, SetDown):
            carried = -1
        elif isinstance(move, Dwell):
            steps.append(Step("dwell", place, move.name or f"{place + 1}: dwell", None, carried, move))
        else:
            steps += _moving(cell, move, place, carried, key)
    return steps, loads


def _moving(cell: Cell, move: Moving, place: int, carried: int, key: str) -> list[Step]:
    name = move.name or f"{place + 1}: to {move.goal_text}"
    end = goal_of(cell, f"{key}.to", move.to, move.at)
    if getattr(move, "track_to", None) is not None and cell.track is None:
        raise InputError.of(f"{key}.track_to", f"{move.track_to:g} m", "no track_to: the cell has no track")  # type: ignore[attr-defined]
    if not isinstance(move, JointMove):
        kind = "arc" if isinstance(move, ArcMove) else "line"
        return [Step(kind, place, name, end, carried, move, float(move.blend))]
    steps = [
        Step("joints", place, f"{name}, by {i + 1}", goal_of(cell, f"{key}.through[{i}]", goal, "point"), carried, move,
             float(move.blend))
        for i, goal in enumerate(move.through)
    ]  # fmt: skip
    if move.via_approach:
        before = goal_of(cell, f"{key}.via_approach", move.to, "approach")
        steps.append(Step("joints", place, f"{name}, approach", before, carried, move))
        return [*steps, Step("line", place, name, end, carried, move, 0.0 if move.stops else float(move.blend))]
    return [*steps, Step("joints", place, name, end, carried, move, 0.0 if move.stops else float(move.blend))]


def goal_of(cell: Cell, key: str, told: Any, at: str) -> Goal:
    """Where a move goes: a posture, or a pose of the tool with what is free of it."""
    if isinstance(told, str):
        target = _target(cell, key, told)
        pose = target.pose.copy()
        if at != "point":
            way = float(getattr(target, at))
            if not way > 0:
                raise InputError.of(key, f'{at} of "{told}"', f"a work point with a length of {at}; this one has none")
            pose[:3, 3] -= way * pose[:3, 2]
        words = f'"{told}"' if at == "point" else f'{at} of "{told}"'
        return Goal(words, None, pose, target.free_spin, float(target.tilt), target)
    if isinstance(told, tuple):
        return Goal("the posture", posture=_posture(cell, key, told))
    return Goal("the pose", pose=told)


def _target(cell: Cell, key: str, name: str) -> Target:
    for target in cell.targets:
        if target.name == name:
            return target
    names = [target.name for target in cell.targets]
    near = get_close_matches(name, names, 1, 0.5)
    told = ", ".join(f'"{item}"' for item in names) or "none"
    raise InputError.of(key, f'"{name}"', f"the name of a work point: {told}", f'"{near[0]}"' if near else "")


def _posture(cell: Cell, key: str, told: Sequence[tuple[str, float]]) -> Any:
    names, kinds = cell.joint_names, cell._model.joint_kinds
    if len(told) != len(names):
        raise InputError.of(key, f"{len(told)} values", f"{len(names)}: {', '.join(names)}")
    for i, (unit, value) in enumerate(told):
        slides = kinds[i] == _core.model.JointKind.prismatic
        if unit and (unit == "m") != slides:
            raise InputError.of(
                f"{key}[{i}]", f"{value:g} {unit}", f"{'a length' if slides else 'an angle'}: {names[i]}"
            )
    q = np.array([value for _, value in told], dtype=np.float64)
    lower, upper = cell.limits[:2]
    for i in map(int, np.flatnonzero((q < lower) | (q > upper))):
        past = lower[i] - q[i] if q[i] < lower[i] else q[i] - upper[i]
        unit = "m" if kinds[i] == _core.model.JointKind.prismatic else "rad"
        raise InputError.of(f"{key}[{i}]", f"{q[i]:.6g} {unit}, {names[i]} past its limit by {past:.3g} {unit}",
                            f"{lower[i]:.6g} to {upper[i]:.6g} {unit}")  # fmt: skip
    return q


def load_of(cell: Cell, cycle: Cycle, move: PickUp, key: str) -> Load:
    """The load that a PickUp names: the cycle's, the cell's or a work point's."""
    if isinstance(move.load, Load):
        return move.load
    if move.load is None:
        if cell.load is None:
            raise InputError.of(f"{key}.load", "nothing", "a load: the cell has none")
        return cell.load
    known = {target.load.name: target.load for target in cell.targets if target.load is not None}
    known |= {cell.load.name: cell.load} if cell.load is not None else {}
    known |= {load.name: load for load in cycle.loads}
    if move.load not in known:
        near = get_close_matches(move.load, known, 1, 0.5)
        told = ", ".join(f'"{name}"' for name in known) or "none"
        raise InputError.of(
            f"{key}.load", f'"{move.load}"', f"the name of a load: {told}", f'"{near[0]}"' if near else ""
        )
    return known[move.load]


def move_spec(cycle: Cycle, step: Step, q: Any, pose: Any) -> _core.motion.MoveSpec:
    """The core's move, with the lower of the cycle's limits and its own."""
    spec = Motion.MoveSpec()
    spec.name, spec.load = step.name, step.load
    spec.kind = getattr(Motion.MoveKind, step.kind)
    move = step.move
    if isinstance(move, Dwell):
        spec.duration = float(move.time)
        return spec
    if step.kind == "joints":
        spec.q = q.tolist()
    else:
        spec.to = pose
    if isinstance(move, ArcMove):
        spec.via = move.via
    if isinstance(move, LineMove) and move.track_to is not None:
        spec.track_to = float(move.track_to)
    if isinstance(move, JointMove) and move.track == "before arm":
        spec.track_order = Motion.TrackOrder.before_arm
    spec.blend = step.blend
    spec.duration = float(move.duration)
    spec.timing = getattr(Motion.Timing, _KINDS[move.timing or cycle.timing])
    spec.speed_share = float(min(move.speed, cycle.limits.speed))  # type: ignore[union-attr]
    tool = Motion.ToolLimits()
    for key in TOOL_LIMITS:
        setattr(tool, _SPEC_LIMITS[key], float(min(getattr(move, key), getattr(cycle.limits, key))))
    spec.tool = tool
    return spec
