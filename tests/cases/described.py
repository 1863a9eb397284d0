"""Arms and cells given in numbers, through the package's own description classes, for tests of objects and studies."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np

import armwright as aw
from cases.chain import Array, Chain

PI = math.pi


def described(chain: Chain) -> aw.ArmDescription:
    """One of our plain chains as a description."""
    joints = [
        aw.Joint(chain.joint_name(i), link.kind, link.placement, link.axis, (link.lower, link.upper), link.effort)
        for i, link in enumerate(chain.links)
    ]
    links = [
        aw.Link(f"link {i + 1}", link.mass, link.centre, link.inertia if link.mass else None,
                tuple(aw.Capsule(c.radius, c.length, c.pose) for c in link.capsules))
        for i, link in enumerate(chain.links)
    ]  # fmt: skip
    return aw.ArmDescription(tuple(joints), tuple(links), chain.name, flange=chain.tool)


def positioner(offset: float = 0.0, upper: float = 0.6, fore: float = 0.5, **ranges: Any) -> aw.ArmDescription:
    """An arm that is easy by hand: axis 1 upright, axes 2 and 3 level (``offset`` from axis 1), and a wrist of three
    axes in the tool point: along the forearm, across, along. 8 kg in the middle of the upper arm, 3 kg in the middle
    of the forearm; axes 2 and 3 hold 160 and 55 N m. ``axis_1`` to ``axis_6``: ranges, rad."""
    names = [f"axis {i}" for i in range(1, 7)]
    at = [(0, 0, 0), (offset, 0, 0), (upper, 0, 0), (fore, 0, 0), (0, 0, 0), (0, 0, 0)]
    axes = ["z", "-y", "-y", "x", "y", "x"]
    torques = [math.inf, 160.0, 55.0, math.inf, math.inf, math.inf]
    joints = [
        aw.Joint(name, placement=place, axis=axis, range=ranges.get(name.replace(" ", "_"), (-PI, PI)),
                 torque_continuous=torque, torque_peak=1.5 * torque)
        for name, place, axis, torque in zip(names, at, axes, torques, strict=True)
    ]  # fmt: skip
    links = [aw.Link(f"link {i}") for i in range(1, 7)]
    links[1] = aw.Link("upper arm", 8.0, (upper / 2, 0, 0))
    links[2] = aw.Link("forearm", 3.0, (fore / 2, 0, 0))
    links[5] = aw.Link("hand", shapes=(aw.Sphere(0.05),))
    return aw.ArmDescription(tuple(joints), tuple(links), "positioner")


def track_cell(**more: Any) -> aw.Cell:
    """A track arm with capsules and torques, a tool, a load and two fixtures."""
    from cases.arms import track_arm

    chain = track_arm(1.0)
    arm = described(replace(chain.without(1), name="track arm"))
    values: dict[str, Any] = {
        "track": aw.Track("x", ("0 m", "1 m"), (0, 0, 0.18)),
        "fixtures": (
            aw.Box(("0.2 m", "0.2 m", "2 m"), (0.9, 0.8, 1.0), "post"),
            aw.HalfSpace(name="floor", clearance="5 mm"),
        ),
        "tool": aw.Tool((0, 0, "120 mm"), "1.5 kg", (0, 0, 0.05)),
        "load": aw.Load("4 kg", (0, 0, "50 mm")),
    }
    return aw.Cell(arm, **(values | more))


def facing(x: Any, z: Any) -> Array:
    """The rotation whose x axis lies along ``x`` and whose z is as near to ``z`` as it can be."""
    along = np.asarray(x, float) / np.linalg.norm(x)
    up = np.asarray(z, float) - along * float(np.dot(along, z))
    up /= np.linalg.norm(up)
    return np.stack([along, np.cross(up, along), up], axis=1)


def at(position: Any, rotation: Any = None) -> Array:
    pose = np.eye(4)
    pose[:3, 3] = position
    if rotation is not None:
        pose[:3, :3] = rotation
    return pose
