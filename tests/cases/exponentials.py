"""Forward kinematics by matrix exponentials of the joints' twists (scipy.linalg.expm): nothing shared with the package
or with its page."""

import numpy as np
from scipy.linalg import expm


def links_by_exponentials(scene, q):
    """Poses of a scene's link frames in the world, (n, 4, 4)."""
    poses, pose = [], np.eye(4)
    for joint, value in zip(scene.joints, q, strict=True):
        x, y, z = joint.axis
        twist = np.zeros((4, 4))
        if joint.kind == "prismatic":
            twist[:3, 3] = joint.axis
        else:
            twist[:3, :3] = [[0, -z, y], [z, 0, -x], [-y, x, 0]]
        pose = pose @ joint.placement @ expm(value * twist)
        poses.append(pose)
    return np.array(poses)


def tool_by_exponentials(scene, q):
    """Pose of the tool frame in the world, (4, 4)."""
    return links_by_exponentials(scene, q)[-1] @ scene.tool
