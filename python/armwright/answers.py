"""What the kernels answer: plain arrays with names."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Integers = NDArray[np.int32]
Booleans = NDArray[np.bool_]
LimitName = Literal["continuous", "peak"]


class Limits(NamedTuple):
    """What each joint can do, (n,) each: rad or m, N m or N. Infinite where nothing is stated.

    >>> limits = arm.limits
    >>> np.round(np.degrees(limits.lower[:2])), np.round(limits.torque_continuous[:2])
    (array([-165.,  -75.]), array([190., 327.]))
    """

    lower: Floats
    upper: Floats
    torque_continuous: Floats
    torque_peak: Floats


@dataclass(frozen=True, eq=False)
class Solutions:
    """Inverse solutions of a batch of poses: k branches of n joints each.

    ``q`` (..., k, n), rad and m, NaN where there is none; ``valid`` (..., k); ``free_joint`` (..., k): the joint that
    may turn freely there (a degenerate posture; ``q`` is a representative), or -1.

    >>> arm.solve(arm.tool_pose(np.zeros((5, 6))))
    Solutions: 5 of 5 poses, 6 joints
    """

    q: Floats
    valid: Booleans
    free_joint: NDArray[np.int8]
    joint_names: tuple[str, ...]

    @property
    def count(self) -> NDArray[np.int64]:
        """How many solutions each pose has, (...,)."""
        return np.asarray(self.valid.sum(axis=-1))

    def __repr__(self) -> str:
        poses = np.prod(self.valid.shape[:-1], dtype=int)
        return f"Solutions: {int(self.valid.sum())} of {poses} poses, {len(self.joint_names)} joints"


@dataclass(frozen=True, eq=False)
class Payload:
    """Largest mass held in each posture of a batch.

    ``mass`` (...,) kg: infinite where no limited joint is loaded, 0 where the arm cannot hold itself; ``joint`` (...,):
    place of the joint that gives out first (where joints are coupled, of the drive of that place), or -1;
    ``holds_itself`` (...,); ``by_joint`` (..., n) kg: each joint's own limit; ``parts``: what sets it, of each joint.

    >>> held = arm.payload(q[1:])
    >>> print(f"{float(held.mass):.1f} kg, {held.joint_name}, {held.limit_part}")
    13.7 kg, axis 3, reducer 121
    """

    mass: Floats
    joint: Integers
    holds_itself: Booleans
    by_joint: Floats
    joint_names: tuple[str, ...]
    limit: LimitName
    parts: tuple[str, ...] = ()

    @property
    def limit_part(self) -> NDArray[np.str_]:
        """The part that gives out first, (...,): "stated", the motor's or a stage's name; "" where there is none."""
        names = np.array([*(self.parts or [""] * len(self.joint_names)), ""])
        return np.asarray(names[self.joint])

    @property
    def joint_name(self) -> NDArray[np.str_]:
        """Names of the limiting joints, (...,); "" where there is none."""
        names = np.array([*self.joint_names, ""])
        return np.asarray(names[self.joint])

    def __repr__(self) -> str:
        if self.mass.ndim:
            span = f"{np.min(self.mass):.4g} to {np.max(self.mass):.4g} kg" if self.mass.size else "none"
            return f"Payload: {self.mass.size} postures, {span} ({self.limit})"
        part = str(self.limit_part)
        which = f"{part}, {self.limit}" if part not in ("", "stated") else self.limit
        if not self.holds_itself:
            return f"Payload: 0 kg; {self.joint_name} cannot hold the arm itself ({which})"
        return f"Payload: {float(self.mass):.4g} kg, limited by {self.joint_name or 'nothing'} ({which})"


@dataclass(frozen=True, eq=False)
class MovingPayload:
    """Largest mass moved as asked in each posture of a batch.

    ``mass`` (...,) kg: infinite where nothing limits it, 0 where the arm cannot move itself so; ``joint`` (...,):
    place of the joint (or, coupled, of the drive) whose limit it is, or -1; ``part``, ``limit``, ``demand`` (...,): the
    part's name, the limit and what was asked, in words; ``moves_itself`` (...,).

    >>> moved = arm.payload_in_motion(q[1:], tool_acceleration="3 m/s^2")
    >>> print(f"{float(moved.mass):.1f} kg, {moved.joint_name}, {moved.part}")
    31.4 kg, axis 3, reducer 121
    """

    mass: Floats
    joint: Integers
    part: NDArray[np.str_]
    limit: NDArray[np.str_]
    demand: NDArray[np.str_]
    moves_itself: Booleans
    joint_names: tuple[str, ...]

    @property
    def joint_name(self) -> NDArray[np.str_]:
        """Names of the limiting joints, (...,); "" where there is none."""
        return np.asarray(np.array([*self.joint_names, ""])[self.joint])

    def __repr__(self) -> str:
        if self.mass.ndim:
            span = f"{np.min(self.mass):.4g} to {np.max(self.mass):.4g} kg" if self.mass.size else "none"
            return f"MovingPayload: {self.mass.size} postures, {span}"
        if not np.isfinite(self.mass):
            return "MovingPayload: limited by nothing"
        by = ", ".join(str(word) for word in (self.joint_name, self.part, self.limit) if str(word))
        unable = "" if self.moves_itself else "; the arm cannot move itself so"
        return f"MovingPayload: {float(self.mass):.4g} kg, by {by} (for {self.demand}){unable}"
