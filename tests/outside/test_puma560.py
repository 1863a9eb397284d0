"""Source: P. I. Corke, B. Armstrong-Helouvry, "A search for consensus among model parameters reported for the PUMA
560 robot", Proc. IEEE ICRA 1994, pp. 1608-1613 (DH rows, masses, centres, inertias), and the figures printed for
that model in the tests of petercorke/robotics-toolbox-python (tests/test_DHRobot.py) and -matlab
(unit_test/SerialLinkTest.m). Named postures there: qz = 0, qr = (0, 90, -90, 0, 0, 0), qs = (0, 0, -90, 0, 0, 0),
qn = (0, 45, 180, 0, 45, 0) degrees.

Traps, told by the sources: gear ratios are signed; friction and armature are part of the published inverse
dynamics; the published torques use g = 9.81 m/s². Tolerance: half a unit of the last printed digit, unless said
otherwise."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

import armwright as aw
from cases.arms import puma560

PI = math.pi
QZ = np.zeros(6)
QR = np.array([0, PI / 2, -PI / 2, 0, 0, 0])
QS = np.array([0, 0, -PI / 2, 0, 0, 0])
QN = np.array([0, PI / 4, PI, 0, PI / 4, 0])
Q1 = np.array([0, PI / 4, -PI, 1, PI / 4, 0])
Q2 = np.array([0, PI / 2, -PI, 1, PI / 2, 0])
G = 9.81
# Motor inertia (kg m²), gear ratio, viscous (N m s/rad) and Coulomb (N m) friction on the motor's side: same table.
JM = np.array([200e-6] * 3 + [33e-6] * 3)
RATIO = np.array([-62.6111, 107.815, -53.7063, 76.0364, 71.923, 76.686])
VISCOUS = np.array([1.48e-3, 0.817e-3, 1.38e-3, 71.2e-6, 82.6e-6, 36.7e-6])
COULOMB = np.array([0.395, 0.126, 0.132, 11.2e-3, 9.26e-3, 3.96e-3])
ARMATURE = RATIO**2 * JM


@pytest.fixture(scope="module")
def arm(tmp_path_factory: pytest.TempPathFactory) -> Any:
    chain = puma560()
    free = replace(chain, links=tuple(replace(link, lower=-PI, upper=PI) for link in chain.links))
    return aw.load_arm(free.write_urdf(tmp_path_factory.mktemp("puma")), tool="tool")


@pytest.fixture(scope="module")
def from_dh_rows(tmp_path_factory: pytest.TempPathFactory) -> Any:
    """The same arm from an arm file with the published rows as they stand."""
    path = tmp_path_factory.mktemp("puma_dh") / "puma.toml"
    path.write_text(DH_FILE, encoding="utf-8")
    return aw.load_arm(path)


DH_FILE = """name = "puma 560"
dh_convention = "standard"
""" + "".join(
    f"""[[joint]]
dh = {{ d = "{d} m", a = "{a} m", alpha = "{alpha} deg" }}
range = ["-180 deg", "180 deg"]
torque = "{torque} N*m"
[joint.link]
mass = "{mass} kg"
centre = ["{r[0]} m", "{r[1]} m", "{r[2]} m"]
inertia = {{ xx = "{m[0]} kg*m^2", yy = "{m[1]} kg*m^2", zz = "{m[2]} kg*m^2" }}
"""
    for d, a, alpha, mass, r, m, torque in [
        (0, 0, 90, 1, (0, 0, 0), (0.175, 0.35, 0.175), 97.6),  # links 1 to 3: see puma560() on their moments
        (0, 0.4318, 0, 17.4, (-0.3638, 0.006, 0.2275), (0.12, 0.514, 0.539), 186.4),
        (0.15005, 0.0203, -90, 4.8, (-0.0203, -0.0141, 0.070), (0.076, 0.086, 0.0225), 89.4),
        (0.4318, 0, 90, 0.82, (0, 0.019, 0), (1.8e-3, 1.3e-3, 1.8e-3), 24.2),
        (0, 0, -90, 0.34, (0, 0, 0), (0.3e-3, 0.4e-3, 0.3e-3), 20.1),
        (0, 0, 0, 0.09, (0, 0, 0.032), (0.15e-3, 0.15e-3, 0.04e-3), 21.3),
    ]
)


def at_published_g(arm: Any, q: np.ndarray, qd: np.ndarray | None = None, qdd: np.ndarray | None = None) -> np.ndarray:
    """Torques with the published 9.81 m/s²: the gravity part is linear in g."""
    held = arm.gravity_torque(q)
    moved = 0.0 if qd is None else arm.inverse_dynamics(q, qd, qdd) - held
    return moved + held * (G / 9.80665)


def printed(values: np.ndarray, digits: int, expected: Any) -> None:
    np.testing.assert_allclose(values, expected, rtol=0, atol=0.5001 * 10.0**-digits)


def test_tool_positions(arm: Any) -> None:
    printed(arm.tool_pose(QZ)[:3, 3], 4, (0.4521, -0.15005, 0.4318))
    np.testing.assert_allclose(arm.tool_pose(QZ)[:3, :3], np.eye(3), atol=1e-15)
    printed(arm.tool_pose(QN)[:3, 3], 6, (0.596303, -0.15005, -0.014354))  # recomputed, not printed
    printed(arm.tool_pose(QS)[:3, 3], 4, (0.8636, -0.15005, -0.0203))


def test_dh_rows_and_origins_agree(arm: Any, from_dh_rows: Any) -> None:
    q = np.random.default_rng(1).uniform(-PI, PI, (100, 6))
    np.testing.assert_allclose(from_dh_rows.tool_pose(q), arm.tool_pose(q), atol=1e-14)
    np.testing.assert_allclose(from_dh_rows.gravity_torque(q), arm.gravity_torque(q), atol=1e-12)


def test_jacobian(arm: Any) -> None:
    """SerialLinkTest.m, base frame, printed to 4 digits."""
    printed(arm.jacobian(np.array([0.0, 1, 0, 0, 2, 0])), 4, [
        [0.1501, -0.6137, -0.2504, 0, 0, 0], [-0.1191, 0, 0, 0, 0, 0], [0, -0.1191, -0.3524, 0, 0, 0],
        [0, 0, 0, -0.8415, 0, -0.1411], [0, -1, -1, 0, -1, 0], [1, 0, 0, 0.5403, 0, -0.9900]])  # fmt: skip


@pytest.mark.parametrize(("q", "every", "translation", "rotation"), [
    (QN, 0.0786, 0.111181, 2.44949), (Q1, 0.0786, 0.1112, 2.5936),
])  # fmt: skip
def test_manipulability(arm: Any, q: np.ndarray, every: float, translation: float, rotation: float) -> None:
    J = arm.jacobian(q)
    for rows, value in [(J, every), (J[:3], translation), (J[3:], rotation)]:
        assert math.sqrt(np.linalg.det(rows @ rows.T)) == pytest.approx(value, abs=5.1e-5)


def test_eight_inverse_solutions(arm: Any) -> None:
    """Exactly these eight without joint limits (found with eaik, each reproduces the pose to 1e-15). Tolerance 1e-6
    rad."""
    expected = np.array([
        (2.595943, 1.51554, 0.7, -2.373601, 2.299594, 1.957731),
        (2.595943, 1.51554, 0.7, 0.767992, -2.299594, -1.183861),
        (2.595943, -2.541593, 2.535548, -1.947124, 0.591031, 0.259539),
        (2.595943, -2.541593, 2.535548, 1.194469, -0.591031, -2.882054),
        (0.3, -0.6, 0.7, 0.4, 0.5, 0.2),
        (0.3, -0.6, 0.7, -2.741593, -0.5, -2.941593),
        (0.3, 1.626053, 2.535548, 0.40903, 2.65296, 0.920839),
        (0.3, 1.626053, 2.535548, -2.732563, -2.65296, -2.220753)])  # fmt: skip
    answer = arm.solve(arm.tool_pose(np.array([0.3, -0.6, 0.7, 0.4, 0.5, 0.2])))
    found = answer.q[answer.valid]
    assert len(found) == 8
    gaps = np.abs((found[:, None] - expected[None] + PI) % (2 * PI) - PI).max(axis=2)
    assert gaps.min(axis=0).max() < 1e-6
    assert gaps.min(axis=1).max() < 1e-6


def test_singular_postures(arm: Any) -> None:
    """Wrist: q5 = 0. Elbow: q3 = -87.30836 deg, where a3 and d4 line up with a2. Shoulder: wrist centre at its least
    distance, 0.15005 m, from axis 1 (q2 = 0.4 rad, q3 = 46.70596 deg). Angles recomputed, printed to 5 digits."""
    deg = PI / 180
    usual = np.array([0.3, 0.4, 0.5, 0.6, 0.7, 0.8])
    assert abs(np.linalg.det(arm.jacobian(usual))) > 1e-3
    wrist, elbow, shoulder = usual.copy(), usual.copy(), usual.copy()
    wrist[4] = 0
    elbow[2] = -87.30836 * deg
    shoulder[2] = 46.70596 * deg
    assert abs(np.linalg.det(arm.jacobian(wrist))) < 1e-15
    assert abs(np.linalg.det(arm.jacobian(elbow))) < 1e-7
    assert abs(np.linalg.det(arm.jacobian(shoulder))) < 1e-7
    assert math.hypot(*arm.tool_pose(shoulder)[:2, 3]) == pytest.approx(0.15005, abs=1e-8)


@pytest.mark.parametrize(("q", "digits", "expected"), [
    (QN, 4, (0, 31.6399, 6.0351, 0, 0.0283, 0)),
    (Q1, 4, (0, 31.6334, 6.0286, -0.0119, 0.0218, 0)),
    (Q2, 4, (0, 7.7198, 8.7439, -0.0238, 0, 0)),
    (QZ, 6, (0, 37.483667, 0.248929, 0, 0, 0)),  # recomputed; 37.4837 and 0.2489 in Corke's textbook, from memory
    (QR, 6, (0, -0.775235, 0.248929, 0, 0, 0)),  # recomputed
    (QS, 6, (0, 46.006938, 8.7722, 0, 0.028253, 0)),  # recomputed
])  # fmt: skip
def test_gravity_torques(arm: Any, q: np.ndarray, digits: int, expected: tuple[float, ...]) -> None:
    printed(at_published_g(arm, q), digits, expected)


def test_gravity_torque_with_standard_gravity(arm: Any) -> None:
    assert arm.gravity_torque(QN)[1] == pytest.approx(31.6291, abs=6e-5)  # 31.6399 x 9.80665/9.81


@pytest.mark.parametrize(("qd", "qdd", "digits", "expected"), [
    (0, 1, (5, 4, 5, 6, 6, 6), (3.35311, 36.0025, 7.42596, 0.190043, 0.203441, 0.194133)),
    (1, 1, (4, 3, 4, 5, 5, 6), (32.4952, 60.867, 17.7436, 1.45452, 1.29911, 0.713781)),
    (1, 0, (4, 4, 4, 5, 5, 6), (29.1421, 56.5044, 16.3528, 1.26448, 1.12392, 0.519648)),
])  # fmt: skip
def test_inverse_dynamics(
    arm: Any, qd: float, qdd: float, digits: tuple[int, ...], expected: tuple[float, ...]
) -> None:
    """At qn, all joints at the same speed and acceleration. Friction |G| (B |G| qd + Tc) and armature G² Jm, which
    the published torques contain and which are no part of an arm's rigid bodies, are added here from the same
    table."""
    v, a = np.full(6, float(qd)), np.full(6, float(qdd))
    drives = ARMATURE * a + np.abs(RATIO) * (VISCOUS * np.abs(RATIO) * v + COULOMB * np.sign(v))
    ours = at_published_g(arm, QN, v, a) + drives
    np.testing.assert_array_less(np.abs(ours - expected), 0.51 * 10.0 ** -np.array(digits))


def test_mass_matrix(arm: Any) -> None:
    """Joint-space inertia at qn, 4 digits; the armature is taken off the published diagonal's side here, added to
    ours."""
    M = arm.mass_matrix(QN) + np.diag(ARMATURE)
    printed(np.diag(M), 4, (3.6594, 4.4137, 0.9378, 0.1925, 0.1713, 0.1941))
    for i, j, value in [
        (0, 1, -0.4044),
        (0, 2, 0.1006),
        (0, 3, -0.0025),
        (1, 2, 0.3509),
        (1, 4, 0.0024),
        (2, 4, 0.0015),
    ]:
        printed(M[i, j], 4, value)
        printed(M[j, i], 4, value)
    printed(M @ np.array([1.0, 2, 3, 1, 2, 3]), 4, (3.1500, 9.4805, 3.6189, 0.1901, 0.3519, 0.5823))


def test_the_published_moments_as_they_stand() -> None:
    """pinocchio, which takes moments that no body can have, says that the bodies of puma560() move as the published
    ones."""
    pin = pytest.importorskip("pinocchio", reason="needs the peers: pip install 'armwright[peers]'")
    from cases.peer_arms import built

    ours = built(puma560())
    published = ours.copy()
    quarter = np.array([[1.0, 0, 0], [0, 0, -1], [0, 1, 0]])  # standard DH frame of links 1 and 3 in the joint's
    for joint, mass, moments, turn in [
        (1, 0.0, (0, 0.35, 0), quarter),
        (2, 17.4, (0.13, 0.524, 0.539), np.eye(3)),
        (3, 4.8, (0.066, 0.086, 0.0125), quarter.T),
    ]:
        published.inertias[joint] = pin.Inertia(mass, ours.inertias[joint].lever, turn @ np.diag(moments) @ turn.T)
    rng = np.random.default_rng(3)
    for _ in range(50):
        q, v, a = rng.normal(size=(3, 6))
        np.testing.assert_allclose(
            pin.rnea(ours, ours.createData(), q, v, a), pin.rnea(published, published.createData(), q, v, a), atol=1e-12
        )


# ---- static payload from the published joint torque limits -----------------------------------------------------
# Limits: Armstrong, Khatib, Burdick, ICRA 1986, table 7. The task: a university course's "Static Torque" exercise,
# with its answers (largest point mass at the wrist centre; q = 0: 33.5768 kg; p = (0.7, 0, 0): 22.284 and 22.442
# kg; straight out: 16.5716 kg; joint 2 governs each time), computed with 9.81 m/s².


def mass_at_published_g(arm: Any, q: np.ndarray, joint: int, limit: float) -> float:
    """Our mass, told for 9.81 instead of 9.80665: m = (limit/g - what the arm itself weighs there)/lever."""
    answer = arm.payload(q)
    assert answer.joint == joint
    lever = abs(arm.jacobian(q)[2, joint])
    return float(answer.mass + (limit / G - limit / 9.80665) / lever)


def test_payload_at_zero(arm: Any) -> None:
    assert mass_at_published_g(arm, QZ, 1, 186.4) == pytest.approx(33.5768, abs=5e-5)


def test_payload_straight_out(arm: Any) -> None:
    assert mass_at_published_g(arm, QS, 1, 186.4) == pytest.approx(16.5716, abs=5e-5)


def test_payload_at_a_bent_posture(arm: Any) -> None:
    """p = (0.7, 0, 0), R = Ry(90 deg): two ways of the elbow, 22.284 and 22.442 kg."""
    pose = np.array([[0.0, 0, 1, 0.7], [0, 1, 0, 0], [-1, 0, 0, 0], [0, 0, 0, 1]])
    answer = arm.solve(pose)
    q = answer.q[answer.valid]
    front = q[np.abs(q[:, 0]) < PI / 2]
    masses = sorted({round(mass_at_published_g(arm, row, 1, 186.4), 3) for row in front})
    np.testing.assert_allclose(masses, (22.284, 22.442), atol=1.1e-3)


def test_reach_from_the_dimensions(arm: Any) -> None:
    """a2 + sqrt(a3² + d4²) = 0.8640769 m in the arm's plane; 0.8770085 m from the shoulder (data sheets: 0.864 to
    0.878 m, from memory)."""
    q3 = -(PI / 2 - math.atan2(0.0203, 0.4318))
    stretched = arm.tool_pose(np.array([0, 0.3, q3, 0, 0, 0]))[:3, 3]
    assert np.linalg.norm(stretched) == pytest.approx(0.8770085, abs=1e-7)
    assert np.hypot(stretched[0], stretched[2]) == pytest.approx(0.8640769, abs=1e-7)
