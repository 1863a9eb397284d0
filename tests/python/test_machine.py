from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

import armwright as aw
from cases.arms import spherical_arm, three_parallel_arm, track_arm
from cases.chain import Array
from cases.described import at, described, positioner, track_cell

G = 9.80665
SPHERICAL = aw.Arm(described(spherical_arm()))
RNG = np.random.default_rng(3)


def kernels(machine: Any) -> dict[str, tuple[Any, tuple[int, ...]]]:
    """Every kernel over postures alone, with the shape that it gives for one."""
    n = machine.joint_count
    return {
        "tool_pose": (machine.tool_pose, (4, 4)),
        "link_poses": (machine.link_poses, (n, 4, 4)),
        "jacobian": (machine.jacobian, (6, n)),
        "manipulability": (machine.manipulability, ()),
        "conditioning": (machine.conditioning, ()),
        "limit_margin": (machine.limit_margin, ()),
        "gravity_torque": (machine.gravity_torque, (n,)),
        "mass_matrix": (machine.mass_matrix, (n, n)),
        "inverse_dynamics": (lambda q: machine.inverse_dynamics(q, 0.5 * np.asarray(q), 2 * np.asarray(q)), (n,)),
        "payload": (lambda q: machine.payload(q).mass, ()),
        "by_joint": (lambda q: machine.payload(q).by_joint, (n,)),
        "limiting joint": (lambda q: machine.payload(q).joint, ()),
    }


@pytest.mark.parametrize("name", kernels(SPHERICAL))
def test_shapes_and_bits(name: str) -> None:
    """A posture gives the same bits alone and anywhere in a batch of any shape."""
    for machine in (SPHERICAL, track_cell()):
        kernel, shape = kernels(machine)[name]
        n = machine.joint_count
        q = RNG.uniform(-1, 1, (3, 5, n))
        whole = kernel(q)
        assert whole.shape == (3, 5, *shape)
        assert np.shape(kernel(q[0, 0])) == shape
        assert np.shape(kernel(q[:0, 0])) == (0, *shape)
        assert np.shape(kernel(np.zeros((0, 4, n)))) == (0, 4, *shape)
        for i in range(3):
            assert np.array_equal(kernel(q[i]), whole[i])
            for j in range(5):
                assert np.array_equal(kernel(q[i, j]), whole[i, j])
        assert np.array_equal(kernel(q[::-1, ::2]), whole[::-1, ::2]), "strided"
        assert np.array_equal(kernel(np.asfortranarray(q)), whole)
        assert np.array_equal(kernel(q[0, 0].tolist()), whole[0, 0])


@pytest.mark.parametrize("name", kernels(SPHERICAL))
def test_wrong_postures(name: str) -> None:
    kernel, _ = kernels(SPHERICAL)[name]
    names = ", ".join(SPHERICAL.joint_names)
    for q in (np.zeros(5), np.zeros((2, 7)), np.zeros(()), np.zeros((6, 1))):
        with pytest.raises(aw.InputError) as raised:
            kernel(q)
        assert raised.value.problems[0].expected == f"shape (..., 6): {names}"
        assert raised.value.problems[0].value == f"an array of shape {q.shape}"
    for bad in (np.nan, np.inf, 1e200):
        with pytest.raises(aw.InputError, match=r" at \[1, 2\], expected "):
            q = np.zeros((2, 6))
            q[1, 2] = bad
            kernel(q)


def test_motions_of_shapes_that_do_not_go_together() -> None:
    q = np.zeros((2, 6))
    for qd, qdd in ((np.zeros((3, 6)), q), (np.zeros(5), q), (q, np.zeros((2, 7)))):
        with pytest.raises(aw.InputError, match=r"^q, qd, qdd: got arrays of shapes .*, expected shapes that go"):
            SPHERICAL.inverse_dynamics(q, qd, qdd)
    with pytest.raises(aw.InputError, match=r"^qd: got nan at \[0, 1\], expected finite numbers$"):
        SPHERICAL.inverse_dynamics(q, [0, np.nan, 0, 0, 0, 0], q)
    assert SPHERICAL.inverse_dynamics(q, np.zeros(6), 0).shape == (2, 6)


def test_words_that_are_not_known() -> None:
    q = np.zeros(6)
    with pytest.raises(aw.InputError) as raised:
        SPHERICAL.manipulability(q, "rotaton")  # type: ignore[arg-type]
    assert str(raised.value) == (
        "motion: got 'rotaton', expected one of all, translation, rotation (did you mean rotation?)"
    )
    with pytest.raises(aw.InputError, match=r"^limit: got 'peek', .*did you mean peak\?"):
        SPHERICAL.payload(q, limit="peek")  # type: ignore[arg-type]
    with pytest.raises(aw.InputError, match=r"^load: got '6 kg', expected a Load"):
        SPHERICAL.gravity_torque(q, "6 kg")  # type: ignore[arg-type]
    with pytest.raises(aw.InputError, match=r"^length: got 0 m"):
        SPHERICAL.conditioning(q, 0)


def test_conditioning_is_the_quotient_of_singular_values() -> None:
    q = RNG.uniform(-1, 1, (20, 6))
    J = SPHERICAL.jacobian(q)
    J[:, 3:] *= 0.25
    values = np.linalg.svd(J, compute_uv=False)
    np.testing.assert_allclose(SPHERICAL.conditioning(q, "250 mm"), values[:, -1] / values[:, 0], rtol=1e-9)
    stretched = np.zeros(6)  # axes 4 and 6 in line
    assert SPHERICAL.conditioning(stretched) < 1e-9
    assert SPHERICAL.manipulability(stretched, "translation") > 0


def test_solutions_bring_the_tool_there() -> None:
    for chain in (spherical_arm(), three_parallel_arm()):
        arm = aw.Arm(described(chain))
        lower, upper = arm.limits[:2]
        q = RNG.uniform(lower, upper, (7, 4, 6))
        poses = arm.tool_pose(q)
        found = arm.solve(poses)
        assert found.q.shape == (7, 4, found.q.shape[2], 6)
        assert found.valid.shape == found.free_joint.shape == found.q.shape[:3]
        assert np.array_equal(np.isnan(found.q).all(axis=-1), ~found.valid)
        assert np.array_equal(found.count, found.valid.sum(axis=-1)) and (found.count > 0).all()
        reached = arm.tool_pose(np.nan_to_num(found.q))
        error = np.abs(reached - poses[:, :, None]).max(axis=(-1, -2))
        assert error[found.valid].max() < 1e-9
        inside = (found.q >= lower).all(axis=-1) & (found.q <= upper).all(axis=-1)
        assert inside[found.valid].all()
        off = found.q - q[:, :, None]
        away = np.abs(off - 2 * np.pi * np.round(off / (2 * np.pi))).max(axis=-1)
        assert (np.nanmin(np.where(found.valid, away, np.nan), axis=-1) < 1e-5).all(), "the posture itself"
        assert arm.solve(poses, within_limits=False).valid.sum() >= found.valid.sum()
        for i in range(7):
            alone = arm.solve(poses[i, 0])
            assert np.array_equal(alone.q, found.q[i, 0], equal_nan=True)
        assert arm.solve(np.zeros((0, 4, 4))).q.shape == (0, found.q.shape[2], 6)


def test_a_track_is_tried_over_its_whole_range() -> None:
    cell = track_cell()
    q = np.array([0.5, 0.3, 0.4, -0.6, 0.3, 0.5, 0.2])
    found = cell.solve(cell.tool_pose(q), samples=5)
    assert set(found.q[found.valid][:, 0]) <= {0.0, 0.25, 0.5, 0.75, 1.0}
    nearest = np.abs(found.q[found.valid] - q).max(axis=1).min()
    assert nearest < 1e-9
    with pytest.raises(aw.InputError, match=r"^samples: got 2.5, expected a whole number, 1 to 100000"):
        cell.solve(np.eye(4), samples=2.5)  # type: ignore[arg-type]
    with pytest.raises(aw.InputError, match=r"^poses: got 1,000, which makes an answer of 5,600,000,000 numbers"):
        cell.solve(np.tile(np.eye(4), (1000, 1, 1)), samples=100_000)


def test_poses_that_are_none() -> None:
    for wrong, words in (
        (np.eye(3), r"^poses: got an array of shape \(3, 3\), expected shape \(..., 4, 4\)"),
        (np.full((4, 4), np.nan), r"^poses: got nan at \[0, 0\], expected finite numbers"),
        (np.diag([1.0, 1, -1, 1]), r"^poses\[0\]: .* expected a rotation \(right-handed"),
        (np.diag([1.001, 1, 1, 1]), r"^poses\[0\]: "),
        (np.diag([1.0, 1, 1, 2]), r"^poses\[0\]: "),
        ("home", "^poses: got "),
    ):
        with pytest.raises(aw.InputError, match=words):
            SPHERICAL.solve(wrong)
    loose = SPHERICAL.tool_pose(np.full(6, 0.3))
    loose[:3, :3] += 3e-7  # as a file with seven digits has it
    found = SPHERICAL.solve(loose)
    assert np.abs(SPHERICAL.tool_pose(found.q[found.valid]) - loose).max() < 1e-6


def test_payload_by_hand() -> None:
    """The positioner level and stretched: axis 2 holds 8 kg at 0.3 m and 3 kg at 0.85 m, axis 3 3 kg at 0.25 m."""
    arm = aw.Arm(positioner())
    shoulder, elbow = (160 - G * (8 * 0.3 + 3 * 0.85)) / G, (55 - G * 3 * 0.25) / G
    for c in (0.0, 0.3):
        answer = arm.payload(np.zeros(6), centre=(f"{1000 * c} mm", 0, 0))
        expected = shoulder / (1.1 + c), elbow / (0.5 + c)
        assert float(answer.mass) == pytest.approx(min(expected))
        assert answer.by_joint[1:3] == pytest.approx(expected)
        assert str(answer.joint_name) == ("axis 2" if expected[0] < expected[1] else "axis 3")
    assert math.isinf(arm.payload(np.zeros(6)).by_joint[0])
    peak = arm.payload(np.zeros((2, 6)), limit="peak")
    assert peak.mass[0] == pytest.approx(min((240 - G * 4.95) / G / 1.1, (82.5 - G * 0.75) / G / 0.5))
    assert peak.limit == "peak" and peak.joint_name.tolist() == [str(peak.joint_name[0])] * 2


def test_an_arm_too_weak_for_itself_says_so() -> None:
    joints = list(positioner().joints)
    joints[1] = replace(joints[1], torque_continuous=10.0, torque_peak=20.0)
    arm = aw.Arm(replace(positioner(), joints=tuple(joints)))
    answer = arm.payload(np.zeros(6))
    assert (float(answer.mass), bool(answer.holds_itself), str(answer.joint_name)) == (0.0, False, "axis 2")
    assert repr(answer) == "Payload: 0 kg; axis 2 cannot hold the arm itself (continuous)"


def test_loads_given_and_carried() -> None:
    cell = track_cell()
    q = np.array([0.5, 0.3, 0.4, -0.6, 0.3, 0.5, 0.2])
    bare = track_cell(load=None)
    assert np.array_equal(cell.gravity_torque(q), bare.gravity_torque(q, cell.load))
    assert np.array_equal(cell.mass_matrix(q), bare.mass_matrix(q, cell.load))
    # A load of 4 kg 50 mm beyond the tool point: its weight times the Jacobian of its centre.
    beyond = replace(cell.tool, tool_point=(0, 0, "170 mm"))  # type: ignore[type-var]
    J = track_cell(tool=beyond).jacobian(q)
    np.testing.assert_allclose(cell.gravity_torque(q) - bare.gravity_torque(q), 4 * G * J[2], atol=1e-12)
    # The cell's own load does not count against the payload.
    assert np.array_equal(cell.payload(q).by_joint, bare.payload(q).by_joint)


def test_dynamics_agree_with_each_other() -> None:
    cell = track_cell()
    q, qd, qdd = RNG.uniform(-1, 1, (3, 10, 7))
    bias = cell.inverse_dynamics(q, qd, 0)
    moving = (cell.mass_matrix(q) @ qdd[..., None])[..., 0]
    np.testing.assert_allclose(cell.inverse_dynamics(q, qd, qdd), moving + bias, rtol=1e-11, atol=1e-10)
    np.testing.assert_allclose(cell.inverse_dynamics(q, 0, 0), cell.gravity_torque(q), rtol=1e-12, atol=1e-12)
    assert (np.linalg.eigvalsh(cell.mass_matrix(q)) > 0).all()


MOUNTS: dict[str, Array] = {
    "wall": at((0, 0, 1.0), np.array([[0, 0, 1], [0, 1, 0], [-1, 0, 0.0]])),
    "ceiling": at((0.3, 0, 2.2), np.diag([1.0, -1, -1])),
}


@pytest.mark.parametrize("mount", MOUNTS)
def test_mounted_on_wall_and_ceiling(mount: str) -> None:
    """A mounted arm is the arm with its world turned: poses are moved by the mount, gravity is seen turned back."""
    X = MOUNTS[mount]
    arm = described(spherical_arm())
    mounted, turned = aw.Cell(arm, mount=X), aw.Cell(arm, gravity=X[:3, :3].T @ (0, 0, -G))
    q = RNG.uniform(-1, 1, (20, 6))
    np.testing.assert_allclose(mounted.tool_pose(q), X @ turned.tool_pose(q), atol=1e-14)
    np.testing.assert_allclose(mounted.gravity_torque(q), turned.gravity_torque(q), atol=1e-11)
    np.testing.assert_allclose(mounted.payload(q).mass, turned.payload(q).mass, rtol=1e-9)
    assert np.abs(mounted.gravity_torque(q) - aw.Cell(arm).gravity_torque(q)).max() > 1.0
    if mount == "wall":  # axis 1 lies level now and has to hold something
        assert np.abs(mounted.gravity_torque(q)[:, 0]).max() > 1.0


def test_limits_are_copies() -> None:
    limits = SPHERICAL.limits
    assert limits.lower[0] == pytest.approx(math.radians(-170))
    limits.lower[:] = 0
    assert SPHERICAL.limits.lower[0] == pytest.approx(math.radians(-170))
    assert SPHERICAL.limits.torque_continuous.tolist() == [link.effort for link in track_arm().links[1:]]


def test_answers_beyond_memory_are_refused_before_they_are_made() -> None:
    joints = tuple(aw.Joint(f"{i}", range=(-1, 1)) for i in range(6))  # all on one axis: five are redundant
    arm = aw.Arm(aw.ArmDescription(joints, tuple(aw.Link(f"link {i}") for i in range(6))))
    with pytest.raises(aw.InputError, match="9,765,625 combinations"):
        arm.solve(np.eye(4))
    assert arm.solve(np.eye(4), samples=3).count > 0
    with pytest.raises(aw.InputError, match="poses: got"):
        arm.solve(np.broadcast_to(np.eye(4), (100_000, 4, 4)), samples=9)


def test_forward_dynamics_undo_inverse_dynamics() -> None:
    cell = track_cell()
    q, qd, qdd = RNG.uniform(-1, 1, (3, 2, 5, 7))
    tau = cell.inverse_dynamics(q, qd, qdd)
    np.testing.assert_allclose(cell.forward_dynamics(q, qd, tau), qdd, rtol=1e-8, atol=1e-8)
    load = aw.Load(2.5, (0.01, 0.02, 0.1))
    tau = cell.inverse_dynamics(q, qd, qdd, load)
    np.testing.assert_allclose(cell.forward_dynamics(q, qd, tau, load), qdd, rtol=1e-8, atol=1e-8)
    assert np.abs(cell.forward_dynamics(q, qd, tau) - qdd).max() > 0.1
    assert cell.spring_lengths(q).shape == (2, 5, 0)


def test_forward_dynamics_refuse_a_joint_without_inertia() -> None:
    arm = aw.Arm(replace(positioner(), links=(*positioner().links[:5], aw.Link("hand"))))
    with pytest.raises(aw.InputError, match=r"^axis \d: got no mass that it moves, expected a link"):
        arm.forward_dynamics(np.zeros(6), 0, 0)
    with pytest.raises(aw.InputError, match=r"^q: got an array of shape \(5,\)"):
        arm.forward_dynamics(0, 0, np.zeros(5))
    with pytest.raises(aw.InputError, match=r"^q, qd, tau: got arrays of shapes \(6,\) and \(\) and \(5,\)"):
        arm.forward_dynamics(np.zeros(6), 0, np.zeros(5))


def test_counterbalance_springs_count_and_know_their_stroke() -> None:
    """A spring that pulls by its rate times its length (wound with preload) from straight above axis 2 takes
    rate · a · b · cos q off its torque, at every angle; its length by the law of cosines."""
    a, b, rate = 0.25, 0.2, 3000.0
    spring = aw.Counterbalance("coil", "link 1", (0, 0, a), "upper arm", (b, 0, 0), rate=rate, free_length="0.1 m",
                               preload=0.1 * rate, longest="0.4 m")  # fmt: skip
    plain, sprung = aw.Arm(positioner()), aw.Arm(replace(positioner(), counterbalances=(spring,)))
    q = np.zeros((50, 6))
    q[:, 1] = np.linspace(-1.4, 3.1, 50)
    less = plain.gravity_torque(q) - sprung.gravity_torque(q)
    np.testing.assert_allclose(less[:, 1], rate * a * b * np.cos(q[:, 1]), atol=1e-10)
    assert np.abs(np.delete(less, 1, axis=1)).max() == 0
    lengths = np.sqrt(a * a + b * b - 2 * a * b * np.sin(q[:, 1]))
    np.testing.assert_allclose(sprung.spring_lengths(q)[:, 0], lengths, atol=1e-12)
    np.testing.assert_array_equal(sprung.springs_within_stroke(q)[:, 0], lengths <= 0.4)
    assert 0 < (lengths <= 0.4).sum() < 50
    still = np.zeros(6)
    np.testing.assert_allclose(sprung.inverse_dynamics(q, still, still), sprung.gravity_torque(q), atol=1e-10)
    more = sprung.payload(np.zeros(6)).by_joint[1] - plain.payload(np.zeros(6)).by_joint[1]
    assert more == pytest.approx(rate * a * b / (G * 1.1))
