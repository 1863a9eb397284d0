"""A posture kept while the design changes: the tool stays where it was, the track and the branch too."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

from armwright import _core

if TYPE_CHECKING:
    from armwright.cell import Cell

Floats = NDArray[np.float64]
_CLOSED = 1e-9  # m, rad
_STEPS = 40
_LONGEST = 0.2  # rad, m, of a joint in one step: near a singular posture Newton's own are far too long


class HeldPosture(NamedTuple):
    """A posture at a work point: joint positions ``q`` (n,), and the tool's frame seen from the work point's."""

    target: str
    q: Floats
    offset: Floats


def hold(cell: Cell, target: str, q: Floats) -> HeldPosture:
    """The posture as it is to be kept."""
    pose = next(each.pose for each in cell.targets if each.name == target)
    return HeldPosture(target, q, np.linalg.inv(pose) @ cell.tool_pose(q))


def posture_in(cell: Cell, held: HeldPosture) -> Floats | None:
    """Joint positions (n,) of a changed cell with the tool in the same place and attitude at the work point, the joints
    beyond what a pose needs (the track) as they were, and the others from where they were by Newton's method: the same
    branch. None where that does not close within 1e-9 m and rad. Ranges are not looked at."""
    target = next((each for each in cell.targets if each.name == held.target), None)
    if target is None or len(held.q) != cell.joint_count:
        return None
    wanted = np.asarray(target.pose @ held.offset)
    redundant = _core.kinematics.redundant_joints(cell._model)
    free = [joint for joint in range(cell.joint_count) if joint not in redundant]
    found = _closed(cell, held.q, wanted, free, np.eye(6))
    if found is None and target.free_spin:  # an arm that cannot keep its spin may turn about the tool's axis
        across = np.eye(6)
        across[3:, 3:] = wanted[:3, :3].T
        found = _closed(cell, held.q, wanted, free, across[:5])
    return found


def _closed(cell: Cell, start: Floats, wanted: Floats, free: list[int], rows: Floats) -> Floats | None:
    """Newton's steps until the rows of the error (position, then rotation vector, world) are closed."""
    q = start.copy()
    for _ in range(_STEPS):
        error = rows @ _error(cell.tool_pose(q), wanted)
        if np.abs(error).max() <= _CLOSED / 1000:
            return q
        step = np.linalg.lstsq(rows @ cell.jacobian(q)[:, free], error, rcond=1e-10)[0]
        if not np.isfinite(step).all():
            return None
        q[free] += step * min(1.0, _LONGEST / max(float(np.abs(step).max()), _LONGEST))
    return q if np.abs(rows @ _error(cell.tool_pose(q), wanted)).max() <= _CLOSED else None


def _error(pose: Floats, wanted: Floats) -> Floats:
    """From a pose to the wanted one: shift, then rotation vector, in the world."""
    turn = wanted[:3, :3] @ pose[:3, :3].T
    twice_sine = np.array([turn[2, 1] - turn[1, 2], turn[0, 2] - turn[2, 0], turn[1, 0] - turn[0, 1]])
    sine = float(np.linalg.norm(twice_sine)) / 2
    angle = np.arctan2(sine, (np.trace(turn) - 1) / 2)
    scale = 0.5 if sine < 1e-12 else angle / (2 * sine)
    return np.concatenate([wanted[:3, 3] - pose[:3, 3], scale * twice_sine])
