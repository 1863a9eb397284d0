"""Arms for tests and bench. Of our own dimensions, except the PUMA 560, whose published model is a check by
itself."""

from __future__ import annotations

import math

import numpy as np

from cases.chain import Array, Capsule, Chain, Link, from_dh, pose, rod

DEG = math.pi / 180
FULL = (-math.pi, math.pi)


def along(start: tuple[float, float, float], end: tuple[float, float, float], radius: float) -> Capsule:
    """A capsule between two points of a link."""
    a, b = np.array(start, float), np.array(end, float)
    length = float(np.linalg.norm(b - a))
    z = (b - a) / length
    helper = np.array([1.0, 0, 0]) if abs(z[0]) < 0.9 else np.array([0.0, 1, 0])
    x = np.cross(helper, z)
    x /= np.linalg.norm(x)
    X = np.eye(4)
    X[:3, :3] = np.stack([x, np.cross(z, x), z], axis=1)
    X[:3, 3] = (a + b) / 2
    return Capsule(radius, length, X)


def _bar(mass: float, direction: int, length: float, centre: tuple[float, float, float]) -> dict[str, object]:
    tensor = rod(mass, length)
    order = [[0, 1, 2], [1, 0, 2], [1, 2, 0]][direction]
    return {"mass": mass, "centre": np.array(centre), "inertia": np.diag(np.diag(tensor)[order])}


def track_arm(stroke: float = 2.4) -> Chain:
    """A track along x and six joints with a spherical wrist, a shoulder and an elbow offset; capsules on every
    link."""
    quarter = math.pi / 2
    links = (
        Link(pose((0, 0, 0.18)), (1, 0, 0), "prismatic", 0.0, stroke, 900.0, name="track",
             **_bar(42.0, 0, 0.6, (0, 0, 0.04)), capsules=(along((-0.22, 0, 0.0), (0.22, 0, 0.0), 0.09),)),
        Link(pose((0, 0, 0.11)), (0, 0, 1), "revolute", -170 * DEG, 170 * DEG, 210.0,
             **_bar(17.5, 2, 0.35, (0.02, 0.0, 0.16)), capsules=(along((0, 0, 0.06), (0, 0, 0.22), 0.1),)),
        Link(pose((0.09, 0, 0.27)), (0, 1, 0), "revolute", -80 * DEG, 140 * DEG, 330.0,
             **_bar(14.2, 2, 0.52, (0.01, 0.06, 0.22)), capsules=(along((0, 0.05, 0.06), (0, 0.05, 0.46), 0.075),)),
        Link(pose((0, 0, 0.52)), (0, 1, 0), "revolute", -150 * DEG, 70 * DEG, 170.0,
             **_bar(8.1, 0, 0.2, (0.06, 0.0, 0.03)), capsules=(along((0.0, 0, 0.07), (0.12, 0, 0.07), 0.07),)),
        Link(pose((0.0, 0, 0.07)), (1, 0, 0), "revolute", -175 * DEG, 175 * DEG, 60.0,
             **_bar(5.3, 0, 0.34, (0.27, 0.01, 0)), capsules=(along((0.2, 0, 0), (0.4, 0, 0), 0.055),)),
        Link(pose((0.47, 0, 0)), (0, 1, 0), "revolute", -115 * DEG, 115 * DEG, 40.0,
             **_bar(1.9, 0, 0.1, (0.02, 0, 0.004)), capsules=(along((0, -0.03, 0), (0, 0.03, 0), 0.05),)),
        Link(pose((0.085, 0, 0)), (1, 0, 0), "revolute", -340 * DEG, 340 * DEG, 22.0,
             **_bar(0.7, 0, 0.06, (0.03, 0.002, 0)), capsules=(along((0.06, 0, 0), (0.17, 0, 0), 0.04),)),
    )  # fmt: skip
    return Chain("track arm", links, pose((0.21, 0, 0), (0, quarter, 0)))


def spherical_arm() -> Chain:
    """The same arm without its track."""
    from dataclasses import replace

    return replace(track_arm().without(1), name="spherical arm")


def three_parallel_arm() -> Chain:
    """Axes 2, 3, 4 parallel; the wrist's axes do not meet."""

    def bar(mass: float, length: float) -> dict[str, object]:
        return _bar(mass, 2, length, (0.0, 0.03, length / 2))

    links = (
        Link(pose((0, 0, 0.16)), (0, 0, 1), effort=180.0, **bar(9.0, 0.16)),
        Link(pose((0, 0.13, 0)), (0, 1, 0), effort=180.0, **bar(11.0, 0.47)),
        Link(pose((0, -0.1, 0.47)), (0, 1, 0), effort=120.0, **bar(4.4, 0.41)),
        Link(pose((0, 0.02, 0.41)), (0, 1, 0), effort=40.0, **bar(1.6, 0.08)),
        Link(pose((0, 0.088, 0.0)), (0, 0, 1), effort=40.0, **bar(1.4, 0.08)),
        Link(pose((0, 0, 0.093)), (0, 1, 0), effort=40.0, **bar(0.3, 0.04)),
    )
    return Chain("three parallel arm", links, pose((0, 0.077, 0), (-math.pi / 2, 0, 0)))


def general_arm() -> Chain:
    """No three axes meet or are parallel, and no two neighbours do: no closed form is known for it."""

    def bar(mass: float, length: float) -> dict[str, object]:
        return _bar(mass, 2, length, (0.0, 0.0, length / 2))

    links = (
        Link(pose((0, 0, 0.18)), (0, 0, 1), effort=150.0, **bar(8.0, 0.18)),
        Link(pose((0.09, 0.05, 0.11), (0.1, 0, 0)), (0, 1, 0), effort=150.0, **bar(7.0, 0.41)),
        Link(pose((-0.05, 0.07, 0.41), (0.25, 0.1, 0.15)), (0, 1, 0), effort=90.0, **bar(4.0, 0.33)),
        Link(pose((0.06, -0.04, 0.17), (0, 0.2, 0)), (0, 0, 1), effort=40.0, **bar(2.0, 0.16)),
        Link(pose((0.03, 0.05, 0.19), (0.3, 0, 0.1)), (0, 1, 0), effort=30.0, **bar(1.2, 0.09)),
        Link(pose((0.07, 0.02, 0.08), (0, 0.25, 0)), (0, 0, 1), effort=20.0, **bar(0.4, 0.05)),
    )
    return Chain("general arm", links, pose((0.02, 0, 0.09), (0.2, 0, 0.3)))


def positioner(
    offset: float,
    upper: float,
    fore: float,
    turn: tuple[float, float] = FULL,
    shoulder: tuple[float, float] = FULL,
    elbow: tuple[float, float] = FULL,
    mass: float = 1.0,
    effort: float = 1e3,
) -> Chain:
    """Axis 1 upright; axis 2 level, ``offset`` from it; an upper arm and a forearm in one upright plane; a wrist of
    three axes that meet in the tool point. ``mass`` of each link, on its axis; ``effort``: what axis 2 holds, N m."""
    return Chain(
        f"positioner {offset} {upper} {fore}",
        (
            Link(np.eye(4), (0, 0, 1), lower=turn[0], upper=turn[1], mass=mass),
            Link(pose((offset, 0, 0)), (0, -1, 0), lower=shoulder[0], upper=shoulder[1], mass=mass, effort=effort),
            Link(pose((upper, 0, 0)), (0, -1, 0), lower=elbow[0], upper=elbow[1], mass=mass),
            Link(pose((fore, 0, 0)), (1, 0, 0), mass=mass),
            Link(np.eye(4), (0, 1, 0), mass=mass),
            Link(np.eye(4), (1, 0, 0), mass=mass),
        ),
    )


def puma560(floor: float = 0.0) -> Chain:
    """Corke and Armstrong-Helouvry, "A search for consensus among model parameters reported for the PUMA 560 robot",
    Proc. IEEE ICRA 1994, pp. 1608-1613; limits: Wang and Chen, IEEE Trans. RA 7(4) 1991; largest joint torques:
    Armstrong, Khatib and Burdick, ICRA 1986, table 7.

    Two of the published bodies cannot be told as they stand, since no body can have them; both are replaced by ones
    with the same motion. Link 1 (no mass, 0.35 kg m² about its axis, 0 about the others) only turns about that
    axis: it gets a mass on the axis and half the moment across. Link 3 (0.066, 0.086, 0.0125 kg m²: one above the
    sum of the others) gets 0.01 kg m² more about the two axes across joint 3, and link 2 gets 0.01 less: the links
    on both sides of a joint turn alike about those, so that no torque changes (test_puma560.py checks it)."""
    q = math.pi / 2
    # d, a, alpha, mass, centre, moments xx yy zz, limits in degrees, torque
    table = [
        (floor, 0, q, 1.0, (0, 0, 0), (0.175, 0.35, 0.175), (-160, 160), 97.6),
        (0, 0.4318, 0, 17.4, (-0.3638, 0.006, 0.2275), (0.12, 0.514, 0.539), (-45, 225), 186.4),
        (0.15005, 0.0203, -q, 4.8, (-0.0203, -0.0141, 0.070), (0.076, 0.086, 0.0225), (-225, 45), 89.4),
        (0.4318, 0, q, 0.82, (0, 0.019, 0), (1.8e-3, 1.3e-3, 1.8e-3), (-110, 170), 24.2),
        (0, 0, -q, 0.34, (0, 0, 0), (0.3e-3, 0.4e-3, 0.3e-3), (-100, 100), 20.1),
        (0, 0, 0, 0.09, (0, 0, 0.032), (0.15e-3, 0.15e-3, 0.04e-3), (-266, 266), 21.3),
    ]
    rows = [
        {"d": d, "a": a, "alpha": alpha, "mass": mass, "centre": centre, "inertia": np.diag(moments), "effort": effort,
         "lower": limits[0] * DEG, "upper": limits[1] * DEG}
        for d, a, alpha, mass, centre, moments, limits, effort in table
    ]  # fmt: skip
    return from_dh("puma 560", rows)


def bench_boxes() -> tuple[Array, Array]:
    """Twenty boxes around the track: poses (20, 4, 4) and edges (20, 3). Drawn once with a fixed seed, then kept
    clear of the space right above the track, so that part of all postures is clear."""
    rng = np.random.default_rng(20)
    poses, edges = [], []
    while len(poses) < 20:
        size = rng.uniform(0.12, 0.5, 3)
        at = rng.uniform([-1.2, -1.6, 0.0], [3.6, 1.6, 1.9])
        if abs(at[1]) < 0.75 and at[2] < 1.5:
            continue
        poses.append(pose(at, (0, 0, rng.uniform(-math.pi, math.pi))))
        edges.append(size)
    return np.array(poses), np.array(edges)
