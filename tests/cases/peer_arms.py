"""Reading arms with pinocchio, for the checks against it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from cases.chain import Array, Chain

G = 9.80665  # m/s²


def robots_folder() -> Path:
    """Where the package example-robot-data keeps its robots."""
    import pinocchio

    for parent in Path(pinocchio.__file__).parents:
        folder = parent / "share" / "example-robot-data" / "robots"
        if folder.is_dir():
            return folder
    raise FileNotFoundError("example-robot-data is not installed")


def read(path: Path, count: int) -> Any:
    """pinocchio's model of a URDF, its first ``count`` joints moving, the rest (a gripper's) locked at zero."""
    import pinocchio as pin

    model = pin.buildModelFromUrdf(str(path))
    rest = [i for i in range(1, model.njoints) if i > count]
    model = pin.buildReducedModel(model, rest, pin.neutral(model))
    model.gravity.linear = np.array([0.0, 0.0, -G])
    return model


def built(chain: Chain, gravity: float = G) -> Any:
    """pinocchio's model of one of our own chains, through its own interface, no file between."""
    import pinocchio as pin

    model, parent = pin.Model(), 0
    kinds = {"revolute": pin.JointModelRevoluteUnaligned, "prismatic": pin.JointModelPrismaticUnaligned}
    for i, link in enumerate(chain.links):
        joint = kinds[link.kind](np.asarray(link.axis, float))
        parent = model.addJoint(parent, joint, pin.SE3(link.placement), f"joint {i}")
        model.appendBodyToJoint(parent, pin.Inertia(float(link.mass), link.centre, link.inertia), pin.SE3.Identity())
    model.addFrame(pin.Frame("tool", parent, pin.SE3(chain.tool), pin.FrameType.OP_FRAME))
    model.gravity.linear = np.array([0.0, 0.0, -gravity])
    return model


def configuration(model: Any, q: Array) -> Array:
    """Joint values as pinocchio wants them: a joint without end is told by its cosine and sine."""
    import pinocchio as pin

    return pin.integrate(model, pin.neutral(model), q)


def postures(model: Any, count: int, seed: int) -> Array:
    """Random joint values within the limits; a joint without end anywhere in a turn and a half."""
    lower, upper = np.full(model.nv, -4.7), np.full(model.nv, 4.7)
    for i in range(model.nv):
        joint = model.joints[i + 1]
        if joint.nq == 1:
            lower[i], upper[i] = model.lowerPositionLimit[joint.idx_q], model.upperPositionLimit[joint.idx_q]
    return np.random.default_rng(seed).uniform(lower, upper, (count, model.nv))
