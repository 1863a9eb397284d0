"""Momentum of an arm's bodies straight from their poses, for free-body checks of what bears them."""

from __future__ import annotations

from typing import Any

import numpy as np

from cases.chain import Array


def bodies(cell: Any, load: Any = None) -> list[tuple[int, float, Array, Array]]:
    """Of every link, tool and load beyond the base: place of its joint in q, mass, centre and tensor in that link's
    frame. A track's carriage carries the base link."""
    described = cell.description
    first = 1 if described.track is not None else 0
    found = []
    if described.track is not None:
        found.append((0, np.eye(4), described.track.carriage))
        found.append((0, described.mount, described.arm.base_link))
    found += [(first + i, np.eye(4), link) for i, link in enumerate(described.arm.links)]
    last, flange = first + len(described.arm.links) - 1, described.arm.flange
    if described.tool is not None:
        found.append((last, flange, described.tool))
        if load is not None:
            found.append((last, flange @ described.tool.tool_point, load))
    return [
        (joint, float(part.mass), X[:3, :3] @ part.centre + X[:3, 3], X[:3, :3] @ part.inertia @ X[:3, :3].T)
        for joint, X, part in found
    ]


def momentum(cell: Any, parts: list[tuple[int, float, Array, Array]], q: Array, qd: Array, about: Array) -> Array:
    """Linear, then angular about a point of the world, of the parts; link speeds by central differences of poses."""
    h = 1e-6
    here, before, after = cell.link_poses(np.stack([q, q - h * qd, q + h * qd]))
    out = np.zeros(6)
    for joint, mass, centre, tensor in parts:
        R = here[joint, :3, :3]
        place = R @ centre + here[joint, :3, 3]
        ends = [X[joint, :3, :3] @ centre + X[joint, :3, 3] for X in (before, after)]
        turn = (after[joint, :3, :3] - before[joint, :3, :3]) @ R.T / (2 * h)
        spin = 0.5 * np.array([turn[2, 1] - turn[1, 2], turn[0, 2] - turn[2, 0], turn[1, 0] - turn[0, 1]])
        linear = mass * (ends[1] - ends[0]) / (2 * h)
        out += np.concatenate([linear, np.cross(place - about, linear) + R @ tensor @ R.T @ spin])
    return out


def weight(cell: Any, parts: list[tuple[int, float, Array, Array]], q: Array, about: Array) -> Array:
    """Of the parts, and its moment about a point of the world."""
    poses, out = cell.link_poses(q), np.zeros(6)
    for joint, mass, centre, _ in parts:
        force = mass * cell.description.gravity
        place = poses[joint, :3, :3] @ centre + poses[joint, :3, 3]
        out += np.concatenate([force, np.cross(place - about, force)])
    return out
