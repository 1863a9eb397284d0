"""All inverse solutions, spherical wrist and three parallel axes, against eaik."""

from __future__ import annotations

import math

import numpy as np
from measure import Row, Size, compare
from shared import batch, closed_form

NAMES = ("spherical", "three parallel")


def agree(name: str, count: int) -> None:
    """The same number of solutions, and the same ones, for all but the nearly singular poses (under 1 in 200)."""
    arm, chain, peers = closed_form(name)
    poses = arm.tool_pose(batch(chain, count))
    answer = arm.solve(poses, within_limits=False)
    ours = np.where(answer.valid[..., None], answer.q, np.inf)
    odd = 0
    _, (q, counts) = next(iter(peers.values())).solve(poses)
    for i in range(count):
        mine, other = ours[i][answer.valid[i]], q[i, : counts[i]]
        gaps = np.abs((mine[:, None] - other[None] + math.pi) % (2 * math.pi) - math.pi).max(axis=2)
        odd += len(mine) != len(other) or gaps.min(axis=1).max() > 1e-6
    assert odd <= max(1, count // 200), f"{name}: {odd} of {count} poses with other solutions than eaik's"


def row(name: str, size: Size) -> Row:
    arm, chain, peers = closed_form(name)
    agree(name, min(1000, size.batch))
    poses = arm.tool_pose(batch(chain, size.cut(0.5)))
    timed = {build: (lambda eaik=eaik: eaik.solve(poses)[0]) for build, eaik in peers.items()}

    def ours() -> object:
        return arm.solve(poses, within_limits=False)

    return compare(f"all inverse solutions, {name}", len(poses), ours, timed, size.repeats)


def rows(size: Size) -> list[Row]:
    return [row(name, size) for name in NAMES]
