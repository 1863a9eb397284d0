"""Where the links of a scene stand at a posture: for drawing."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from armwright.results.scene import Scene


def link_poses(scene: Scene, q: Sequence[float] | None = None) -> NDArray[np.float64]:
    """Poses (n, 4, 4) of the link frames in the world, at ``q`` (the scene's own posture by default)."""
    poses = np.empty((len(scene.joints), 4, 4))
    frame = np.eye(4)
    for i, (joint, value) in enumerate(zip(scene.joints, scene.q if q is None else q, strict=True)):
        frame = frame @ joint.placement @ _motion(joint.kind == "prismatic", np.array(joint.axis), value)
        poses[i] = frame
    return poses


def tool_pose(scene: Scene, q: Sequence[float] | None = None) -> NDArray[np.float64]:
    """Pose (4, 4) of the tool frame in the world."""
    return link_pose(link_poses(scene, q), len(scene.joints) - 1) @ scene.tool


def base_pose(scene: Scene, q: Sequence[float] | None = None) -> NDArray[np.float64]:
    """Pose (4, 4) of the arm's base in the world."""
    return link_pose(link_poses(scene, q), scene.base_link) @ scene.base


def link_pose(poses: NDArray[np.float64], link: int) -> NDArray[np.float64]:
    """The pose of that link; of the world for -1."""
    return np.eye(4) if link < 0 else poses[link]


def _motion(slides: bool, axis: NDArray[np.float64], value: float) -> NDArray[np.float64]:
    """A shift along the axis, or a turn about it by Rodrigues' formula."""
    motion = np.eye(4)
    if slides:
        motion[:3, 3] = value * axis
        return motion
    x, y, z = axis
    cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    motion[:3, :3] += np.sin(value) * cross + (1 - np.cos(value)) * cross @ cross
    return motion
