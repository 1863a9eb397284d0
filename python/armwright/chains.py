"""Of all postures at the stops of a cycle, the chain with the least joint travel time, by dynamic programming."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from armwright import _core, attitudes, ways
from armwright.describe import Load
from armwright.errors import InputError
from armwright.postures import Chooser, Goal, Step

if TYPE_CHECKING:
    from armwright.cell import Cell

Floats = NDArray[np.float64]
_SAME = 1e-4  # rad or m: the same posture


@dataclass
class Layer:
    """Postures after a move, (k, n); for each pair of a first posture and one here the least cost, and from which
    posture before; tool poses at their end."""

    q: Floats
    cost: Floats
    came: NDArray[np.int64] = field(default_factory=lambda: np.zeros((0, 0), dtype=np.int64))
    poses: Any = None


def choose(
    cell: Cell,
    model: _core.model.Model,
    inverse: _core.kinematics.ArmInverse,
    steps: list[Step],
    start: Goal | None,
    repeats: bool,
    loads: list[Load],
) -> tuple[list[Floats], list[Any]]:
    """The posture before the first step and after each, and the tool's pose at the end of lines and arcs."""
    chooser = Chooser(cell, model, inverse, loads)
    first = _first(chooser, steps, start, repeats)
    cost = np.full((len(first), len(first)), np.inf)
    np.fill_diagonal(cost, 0.0)
    layers = [Layer(first, cost)]
    for i, step in enumerate(steps):
        after = steps[i + 1].load if i + 1 < len(steps) else -1 if repeats else step.load
        layers.append(_next(chooser, layers[-1], step, tuple(dict.fromkeys((step.load, after)))))
    return _chain(layers, steps, repeats, model)


def _first(chooser: Chooser, steps: list[Step], start: Goal | None, repeats: bool) -> Floats:
    load = steps[0].load
    if start is not None:
        return chooser.at(start, (load,), "start")
    if repeats:
        for step in reversed(steps):
            if step.goal is not None:
                return chooser.at(step.goal, tuple(dict.fromkeys((step.load, load))), f"moves[{step.source}].to")
    q = chooser.cell._posture(None)
    return chooser.clear(q[None], (load,), "start", "the posture at zero")


def _next(chooser: Chooser, before: Layer, step: Step, loads: tuple[int, ...]) -> Layer:
    key = f"moves[{step.source}]"
    if step.goal is None:
        return Layer(before.q, before.cost, np.tile(np.arange(len(before.q)), (len(before.cost), 1)))
    if step.kind == "joints":
        q = chooser.at(step.goal, loads, f"{key}.to")
        paid = chooser.travel(before.q, q, getattr(step.move, "track", "") == "before arm")
        whole = before.cost[:, :, None] + paid[None]
        came = whole.argmin(axis=1)
        return Layer(q, np.take_along_axis(whole, came[:, None, :], axis=1)[:, 0, :], came)
    return _by_tool(chooser, before, step, loads, key)


def _by_tool(chooser: Chooser, before: Layer, step: Step, loads: tuple[int, ...], key: str) -> Layer:
    """A line or an arc takes each posture to one, or to none; to several where the tool has to lean at its end."""
    goal = step.goal
    assert goal is not None
    starts = np.flatnonzero(np.isfinite(before.cost).any(axis=0))
    attitude = _core.kinematics.tool_poses(chooser.model, np.ascontiguousarray(before.q))[:, :3, :3]
    straight = [(int(i), _spun(goal, goal.pose, attitude[i])) for i in starts]
    found, why = _followed(chooser, before, step, straight)
    kept = chooser.are_clear(found.q, loads)
    leaning = [attitudes.ends_of_ways(goal.spec, attitude[i]) for i in starts] if goal.tilt > 0 else []
    while not kept.any() and (rings := [next(ring, None) for ring in leaning]) and rings[0] is not None:
        ends = [
            (int(i), _spun(goal, pose, attitude[i]))
            for i, ring in zip(starts, rings, strict=True) for pose in ring or ()
        ]  # fmt: skip
        ends = [(i, end) for i, end in ends if chooser.reaches(before.q[i], step, end)]
        more, _ = _followed(chooser, before, step, ends)
        found = more if len(more.q) else found
        kept = chooser.are_clear(found.q, loads)
    if not len(found.q):
        raise InputError.of(
            f"{key}.to",
            f"{goal.words}: {why}",
            f"{'an' if step.kind == 'arc' else 'a'} {step.kind} that one posture follows",
        )
    if not kept.any():
        chooser.clear(found.q, loads, f"{key}.to", goal.words)
    came = found.start[kept]
    cost = before.cost[:, came] + found.paid[kept]
    poses = [pose for pose, keep in zip(found.poses, kept, strict=True) if keep]
    return Layer(found.q[kept], cost, np.tile(came, (len(cost), 1)), poses)


@dataclass
class Followed:
    """Ways that could be followed: from which posture, to which, the tool's pose there, and the travel time."""

    start: NDArray[np.int64]
    q: Floats
    poses: list[Floats]
    paid: Floats


def _followed(
    chooser: Chooser, before: Layer, step: Step, ends: list[tuple[int, Floats]]
) -> tuple[Followed, str]:
    reached: list[tuple[int, Floats, Floats, float]] = []
    why = ""
    poses = _core.kinematics.tool_poses(chooser.model, np.ascontiguousarray(before.q))
    for i, end in ends:
        way = ways.line(poses[i], end) if step.kind == "line" else ways.arc(poses[i], step.move.via, end)
        if way is None:
            expected = "three points that tell a circle"
            raise InputError.of(f"moves[{step.source}].via", "a point in line with start and end", expected)
        found = chooser.follow(before.q[i], way, getattr(step.move, "track_to", None))
        if isinstance(found, str):
            why = why or found
        else:
            reached.append((i, found[0], end, found[1]))
    start, q, tools, paid = (list(each) for each in zip(*reached, strict=True)) if reached else ([], [], [], [])
    rows = np.array(q).reshape(-1, chooser.n)
    return Followed(np.array(start, dtype=np.int64), rows, tools, np.array(paid)), why


def _spun(goal: Goal, pose: Floats, attitude: Floats) -> Floats:
    return ways.nearest_spin(pose, attitude) if goal.free_spin else pose


def _chain(layers: list[Layer], steps: list[Step], repeats: bool, model: Any) -> tuple[list[Floats], list[Any]]:
    last, first = layers[-1], layers[0].q
    total = last.cost.copy()
    if repeats:
        apart = np.abs(first[:, None, :] - last.q[None, :, :]).max(axis=-1)
        total[apart > _SAME] = np.inf
        if not np.isfinite(total).any():
            nearest = np.unravel_index(int(np.argmin(apart)), apart.shape)
            off = np.abs(first[nearest[0]] - last.q[nearest[1]])
            joint = int(np.argmax(off))
            unit = "m" if model.joint_kinds[joint] == _core.model.JointKind.prismatic else "rad"
            value = f"an end where {model.joint_names[joint]} is off the start by {off[joint]:.3g} {unit}"
            raise InputError.of("moves", value, "a cycle that ends in the posture in which it begins, or repeats False")
    begin, at = (int(i) for i in np.unravel_index(int(np.argmin(total)), total.shape))
    postures, poses = [], []
    for layer in reversed(layers[1:]):
        postures.append(layer.q[at])
        poses.append(None if layer.poses is None else layer.poses[at])
        at = int(layer.came[begin, at])
    postures.append(first[begin])
    return postures[::-1], poses[::-1]
