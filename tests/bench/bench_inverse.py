"""All inverse solutions: spherical wrist and three parallel axes against eaik; an arm without a closed form against
ssik (eaik knows no way for such arms)."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from measure import SMOKE, Row, Size, compare
from shared import batch, closed_form, general, is_general_prepared

from cases.chain import Array

CLOSED = {"spherical": 30.0, "three parallel": 15.0}
"""And the ratio that is aimed at."""


def gaps(mine: Array, other: Array) -> Array:
    """How far each of mine is from each other one, in the joint that is farthest, rad."""
    apart = np.abs((mine[:, None] - other[None] + math.pi) % (2 * math.pi) - math.pi)
    return np.asarray(apart.max(axis=2))


def agree(name: str, arm: Any, poses: Array, found: tuple[Array, Array]) -> None:
    """The same number of solutions, and the same ones, for all but the nearly singular poses (under 1 in 200)."""
    answer = arm.solve(poses, within_limits=False)
    q, counts = found
    odd = 0
    for i in range(len(poses)):
        mine, other = answer.q[i][answer.valid[i]], q[i, : counts[i]]
        odd += len(mine) != len(other) or gaps(mine, other).min(axis=1).max() > 1e-6
    assert odd <= max(1, len(poses) // 200), f"{name}: {odd} of {len(poses)} poses with other solutions than the peer's"


def holds_all(arm: Any, poses: Array, found: tuple[Array, Array]) -> str:
    """Every solution of the peer's that reaches its pose to 1e-9 is among ours, and we have no fewer, for all but the
    nearly singular poses (under 1 in 200). Returns how many there are."""
    answer = arm.solve(poses, within_limits=False)
    q, counts = found
    odd = mine = theirs = 0
    for i, pose in enumerate(poses):
        ours, other = answer.q[i][answer.valid[i]], q[i, : counts[i]]
        reached = arm.tool_pose(other) if len(other) else np.empty((0, 4, 4))
        other = other[np.abs(reached - pose).max(axis=(1, 2)) < 1e-9]
        mine, theirs = mine + len(ours), theirs + len(other)
        odd += len(other) > 0 and (len(ours) == 0 or gaps(other, ours).min(axis=1).max() > 1e-5)
    assert odd <= max(1, len(poses) // 200), f"general: {odd} of {len(poses)} poses lack a solution of ssik's"
    assert mine >= theirs, f"general: {mine} solutions, ssik has {theirs}"
    return f"{mine / len(poses):.3f} solutions a pose, ssik {theirs / len(poses):.3f}"


def row(name: str, size: Size) -> Row:
    arm, chain, peers = closed_form(name)
    few = arm.tool_pose(batch(chain, min(1000, size.batch)))
    agree(name, arm, few, next(iter(peers.values())).solve(few)[1])
    poses = arm.tool_pose(batch(chain, size.cut(0.5)))
    timed = {build: (lambda eaik=eaik: eaik.solve(poses)[0]) for build, eaik in peers.items()}

    def ours() -> object:
        return arm.solve(poses, within_limits=False)

    return compare(f"all inverse solutions, {name}", len(poses), ours, timed, size.repeats, CLOSED[name])


def general_row(size: Size) -> Row:
    arm, chain, peers = general()
    poses = arm.tool_pose(batch(chain, size.cut(0.01)))
    note = holds_all(arm, poses, next(iter(peers.values())).solve(poses)[1])
    timed = {build: (lambda ssik=ssik: ssik.solve(poses)[0]) for build, ssik in peers.items()}

    def ours() -> object:
        return arm.solve(poses, within_limits=False)

    return compare(f"all inverse solutions, no closed form ({note})", len(poses), ours, timed, size.repeats, 5.0)


def rows(size: Size) -> list[Row]:
    closed = [row(name, size) for name in CLOSED]
    # To prepare the arm takes ssik minutes: more than a look at the answers is worth.
    return closed if size == SMOKE and not is_general_prepared() else [*closed, general_row(size)]
