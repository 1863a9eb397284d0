"""Source: closed forms of geometry and mechanics (textbook facts, worked out beside each check).

Volumes are counted over a grid, so the truth must lie within the error that the result itself states, and within 2 %.
The arms here have a spherical wrist in the tool point and turn fully in the wrist, so that a point is reached in
every attitude as soon as it is reached at all: the reachable region is that of the first three joints."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import armwright as aw
from cases.arms import positioner
from cases.chain import Chain, Link, pose

PI = math.pi


def mapped(folder: Path, chain: Chain, spacing: float, **cell: Any) -> Any:
    arm = aw.load_arm(chain.write_urdf(folder), tool="tool")
    return aw.Cell(arm, **cell).reach_map(spacing, directions=1, spins=1, progress=False)


def check_volume(result: Any, expected: float) -> None:
    found, error = float(result.attrs["reachable_volume"]), float(result.attrs["reachable_volume_error"])
    assert found == pytest.approx(expected, rel=0.02)
    assert abs(found - expected) <= 3 * error + 1e-9, f"{found} m3 +- {error}, should be {expected}"


def index_at(result: Any, x: float, y: float, z: float) -> float:
    return float(result["reach_index"].sel(x=x, y=y, z=z, method="nearest"))


def test_annulus_of_two_joints(tmp_path: Path) -> None:
    """Planar two joints, full turns: the ring between |l1 - l2| and l1 + l2, area 4 pi l1 l2: here the upright
    section through axis 1 of an arm without a shoulder offset. l1 = 1, l2 = 0.6: 7.5398224 m2, 2 % for the grid."""
    spacing = 0.05
    result = mapped(tmp_path, positioner(0.0, 1.0, 0.6), spacing)
    y = int(np.abs(result["y"].values).argmin())
    cells = int((result["reach_index"].isel(y=y) > 0).sum())
    away = abs(float(result["y"][y]))
    ring = PI * (1.6**2 - away**2) - PI * max(0.0, 0.4**2 - away**2)
    assert cells * spacing**2 == pytest.approx(ring, rel=0.02)
    assert ring == pytest.approx(4 * PI * 1.0 * 0.6, rel=0.01)


def test_annulus_of_an_arm_of_two_joints() -> None:
    """The same ring from an arm that has no more than the two joints: the tool takes one attitude at each position, so
    that the positions alone are asked for. 1 % for the grid."""
    joints = (aw.Joint("axis 1"), aw.Joint("axis 2", placement=(1.0, 0, 0)))
    arm = aw.ArmDescription(joints, (aw.Link("upper arm", 1.0), aw.Link("forearm", 1.0)), flange=(0.6, 0, 0))
    result = aw.Cell(arm).reach_map(0.05, directions=2, spins=1, bounds=((-1.7, -1.7, 0), (1.7, 1.7, 0)))
    assert int(result["reachable"].sum()) * 0.05**2 == pytest.approx(4 * PI * 1.0 * 0.6, rel=0.01)
    assert result["reach_index"].max() == 0


def test_ball_with_a_hole(tmp_path: Path) -> None:
    """R = 1.5 m, r = 0.4 m: 4/3 pi (R³ - r³) = 13.8690844 m³."""
    check_volume(mapped(tmp_path, positioner(0.0, 0.95, 0.55), 0.1), 13.8690844)


def test_swept_along_a_track(tmp_path: Path) -> None:
    """The same ball on a track of s = 2 m: 4/3 pi R³ + pi R² s = 28.2743339 m³, for s >= 2 r leaves no hole; and of
    s = 0.5 m, where a lens is left: hole = pi (4 r + s)(2 r - s)²/12."""
    chain = positioner(0.0, 0.95, 0.55)
    check_volume(mapped(tmp_path, chain, 0.1, track=aw.Track((1, 0, 0), 2.0)), 28.2743339)
    s, r, R = 0.5, 0.4, 1.5
    hole = PI * (4 * r + s) * (2 * r - s) ** 2 / 12
    short = mapped(tmp_path, chain, 0.1, track=aw.Track((1, 0, 0), s))
    check_volume(short, 4 / 3 * PI * R**3 + PI * R**2 * s - hole)
    assert index_at(short, s / 2, 0, 0) == 0.0, "the lens is out of reach"


def test_torus_by_pappus(tmp_path: Path) -> None:
    """A disc of radius 0.4 m carried round at R = 1.0 m: 2 pi² R r² = 3.1582734 m³ (Pappus)."""
    result = mapped(tmp_path, positioner(1.0, 0.2, 0.2), 0.05)
    check_volume(result, 3.1582734)
    assert index_at(result, 0, 0, 0) == 0.0
    assert index_at(result, 0, 1.0, 0) > 0


def test_spindle_torus(tmp_path: Path) -> None:
    """A shoulder offset e = 0.15 m and R = l2 + l3 = 1.1 m: the disc crosses axis 1. The volume, by the same
    integral as a lens of revolution, is 7.5218804 m³. In the half-plane the arm faces, a hole of radius 0.1 m about
    the shoulder is out of reach, but the arm turned by half a turn about axis 1 reaches it: a program that loses
    that half turn reports a false hole."""
    e, R = 0.15, 1.1
    z0 = math.sqrt(R**2 - e**2)

    def half_segment(z: float) -> float:
        return 0.5 * (z * math.sqrt(R**2 - z**2) + R**2 * math.asin(z / R))

    crossed, beyond = half_segment(z0), half_segment(R) - half_segment(z0)
    expected = 2 * (PI * (e**2 + R**2) * z0 - PI * z0**3 / 3 + 2 * PI * e * crossed + 4 * PI * e * beyond)
    assert expected == pytest.approx(7.5218804, abs=1e-7)
    result = mapped(tmp_path, positioner(e, 0.6, 0.5), 0.05)
    check_volume(result, expected)
    assert index_at(result, e, 0, 0) > 0, "the false hole"
    assert index_at(result, 0, e, 0) > 0
    assert index_at(result, 0, 0, 0) > 0


def test_limited_joints_one_elbow_side(tmp_path: Path) -> None:
    """Limits on all three joints, the elbow on one side: each point is reached once, so that the volume is the
    integral of the radius over the section: dq1 * l1 l2 * integral of sin q3 (e + l1 cos q2 + l2 cos(q2 + q3)) dq2
    dq3, done by hand. (The planar case without the radius: dq2 * l1 l2 (cos q3min - cos q3max).)"""
    e, l1, l2 = 0.9, 0.4, 0.3
    q1, q2, q3 = (-1.9, 2.2), (-0.7, 1.3), (math.radians(20), math.radians(150))

    def cosines(a: float, b: float) -> float:  # integral of sin
        return math.cos(a) - math.cos(b)

    span2 = q2[1] - q2[0]

    # integral of sin q3 cos(q2 + q3) over q2, then q3: sin q3 (sin(q2max + q3) - sin(q2min + q3))
    def inner(b: float) -> float:
        def whole(x: float) -> float:  # of sin x sin(b + x) = (cos b - cos(b + 2x))/2
            return 0.5 * (x * math.cos(b) - 0.5 * math.sin(b + 2 * x))

        return whole(q3[1]) - whole(q3[0])

    section = (
        e * span2 * cosines(*q3)
        + l1 * (math.sin(q2[1]) - math.sin(q2[0])) * cosines(*q3)
        + l2 * (inner(q2[1]) - inner(q2[0]))
    )
    expected = (q1[1] - q1[0]) * l1 * l2 * section
    check_volume(mapped(tmp_path, positioner(e, l1, l2, q1, q2, q3), 0.03), expected)


def test_yoshikawas_index(tmp_path: Path) -> None:
    """w = l1 l2 |sin q2| (Yoshikawa 1985). l1 = l2 = 0.4318 m: 0.0932256 at 30 deg, 0.1864512 at 90, 0 at 0 and
    180."""
    arm = aw.load_arm(two_links(0.4318, 0.4318, 1.0, 1.0).write_urdf(tmp_path), tool="tool")
    for degrees, expected in [(30, 0.0932256), (90, 0.1864512), (0, 0), (180, 0)]:
        J = arm.jacobian(np.array([0.7, math.radians(degrees)]))[:3]
        w = math.sqrt(max(0.0, float(np.linalg.det(J.T @ J))))
        assert w == pytest.approx(expected, abs=1e-7)


def two_links(l1: float, l2: float, m1: float, m2: float) -> Chain:
    """Two links in an upright plane, each a point mass at its end; angles count upwards from level."""
    return Chain(
        f"two links {l1} {l2}",
        (
            Link(np.eye(4), (0, -1, 0), mass=m1, centre=np.array([l1, 0, 0])),
            Link(pose((l1, 0, 0)), (0, -1, 0), mass=m2, centre=np.array([l2, 0, 0])),
        ),
        pose((l2, 0, 0)),
    )


def test_two_link_torques(tmp_path: Path) -> None:
    """Craig, Introduction to Robotics, eq. 6.58 (from memory): m = (2, 1) kg, l = (0.5, 0.4) m, q = (30, 45) deg,
    w = (1, 2), a = (3, -1.5), g = 9.81: 15.754195, 1.82129136. The gravity part is linear in g."""
    l1, l2, m1, m2, g = 0.5, 0.4, 2.0, 1.0, 9.80665
    arm = aw.load_arm(two_links(l1, l2, m1, m2).write_urdf(tmp_path), tool="tool")
    rng = np.random.default_rng(2)
    q, w, a = rng.normal(size=(3, 50, 2))
    c1, c2, s2, c12 = np.cos(q[:, 0]), np.cos(q[:, 1]), np.sin(q[:, 1]), np.cos(q.sum(axis=1))
    total = a.sum(axis=1)
    tau1 = (m2 * l2**2 * total + m2 * l1 * l2 * c2 * (2 * a[:, 0] + a[:, 1]) + (m1 + m2) * l1**2 * a[:, 0]
            - m2 * l1 * l2 * s2 * w[:, 1] ** 2 - 2 * m2 * l1 * l2 * s2 * w[:, 0] * w[:, 1]
            + m2 * l2 * g * c12 + (m1 + m2) * l1 * g * c1)  # fmt: skip
    tau2 = m2 * l1 * l2 * c2 * a[:, 0] + m2 * l1 * l2 * s2 * w[:, 0] ** 2 + m2 * l2 * g * c12 + m2 * l2**2 * total
    np.testing.assert_allclose(arm.inverse_dynamics(q, w, a), np.stack([tau1, tau2], axis=1), atol=1e-12)

    q, w, a = np.radians([30.0, 45.0]), np.array([1.0, 2.0]), np.array([3.0, -1.5])
    held = arm.gravity_torque(q)
    np.testing.assert_allclose(
        arm.inverse_dynamics(q, w, a) + held * (9.81 / g - 1), (15.754195, 1.82129136), atol=1e-6
    )


def test_level_links(tmp_path: Path) -> None:
    """9.81 (20 + 15 + 15 x 0.8) = 461.07 N m and 9.81 x 15 x 0.8 = 117.72 N m; rods: 19.62 and 4.905 N m (Spong and
    Vidyasagar, fig. 3-6: two of 1 m and 1 kg)."""
    arm = aw.load_arm(two_links(1.0, 0.8, 20.0, 15.0).write_urdf(tmp_path), tool="tool")
    np.testing.assert_allclose(arm.gravity_torque(np.zeros(2)) * (9.81 / 9.80665), (461.07, 117.72), atol=1e-9)
    rod = {"axis": (0, -1, 0), "mass": 1.0, "centre": np.array([0.5, 0, 0])}
    rods = Chain("rods", (Link(np.eye(4), **rod), Link(pose((1, 0, 0)), **rod)), pose((1, 0, 0)))
    arm = aw.load_arm(rods.write_urdf(tmp_path), tool="tool")
    np.testing.assert_allclose(arm.gravity_torque(np.zeros(2)) * (9.81 / 9.80665), (19.62, 4.905), atol=1e-9)


def test_load_moment_law(tmp_path: Path) -> None:
    """Where one wrist joint governs, the mass falls as m = tau/(g (L + L0)) with the load's distance (ISO 9946
    tells loads as such a curve; the law is a moment balance)."""
    chain = positioner(0.0, 0.6, 0.5)
    from dataclasses import replace

    links = list(chain.links)
    links[4] = replace(links[4], effort=12.0)
    arm = aw.load_arm(replace(chain, links=tuple(links), tool=pose((0.08, 0, 0))).write_urdf(tmp_path), tool="tool")
    q = np.zeros(6)
    for L in [0.0, 0.1, 0.3]:
        answer = arm.payload(q, centre=(L, 0, 0))
        assert float(answer.mass) == pytest.approx(12.0 / (9.80665 * (L + 0.08)), rel=1e-12)
        assert int(answer.joint) == 4
