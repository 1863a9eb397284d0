from __future__ import annotations

import copy
import multiprocessing
import pickle
from pathlib import Path

import numpy as np
import pytest

import armwright as aw
from cases.arms import spherical_arm
from cases.described import described, positioner

ARM = aw.Arm(described(spherical_arm()))
Q = np.array([0.1, 0.2, -0.3, 0.4, 0.5, -0.6])


def test_copies_are_the_arm_itself() -> None:
    assert copy.copy(ARM) is ARM
    assert copy.deepcopy(ARM) is ARM
    assert copy.deepcopy({"arm": [ARM]})["arm"][0] is ARM


def test_pickles_as_what_is_described() -> None:
    again = pickle.loads(pickle.dumps(ARM))
    assert again is not ARM and again == ARM and hash(again) == hash(ARM) and again.digest() == ARM.digest()
    assert np.array_equal(again.tool_pose(Q), ARM.tool_pose(Q))
    ARM.solve(ARM.tool_pose(Q))  # what is kept for speed does not pickle
    assert pickle.loads(pickle.dumps(ARM)) == ARM
    for result in (ARM.solve(ARM.tool_pose(Q)), ARM.payload(Q), ARM.limits):
        assert repr(pickle.loads(pickle.dumps(result))) == repr(result)


def test_goes_to_a_process_that_is_started_afresh() -> None:
    with multiprocessing.get_context("spawn").Pool(1) as pool:
        assert pool.apply(bytes, (b"ready",)) == b"ready"
        assert np.array_equal(pool.apply(ARM.tool_pose, (Q,)), ARM.tool_pose(Q))


def test_equality_and_hash() -> None:
    same, other = aw.Arm(described(spherical_arm())), aw.Arm(positioner())
    assert same == ARM and hash(same) == hash(ARM) and len({same, ARM, other}) == 2
    assert ARM not in (other, "arm", ARM.description)
    assert aw.Arm(positioner(upper=0.6000001)) != aw.Arm(positioner())
    assert ARM.digest() == same.digest() != other.digest()
    assert len(ARM.digest()) == 64 and int(ARM.digest(), 16)


def test_one_line() -> None:
    assert repr(ARM) == "Arm 'spherical arm': 6 joints, 47.7 kg"
    found = ARM.solve(np.stack([ARM.tool_pose(Q), ARM.tool_pose(-Q)]))
    assert repr(found) == f"Solutions: {found.count.sum()} of 2 poses, 6 joints"
    assert repr(ARM.payload(np.zeros((0, 6)))) == "Payload: 0 postures, none (continuous)"
    many = ARM.payload(np.stack([Q, 2 * Q]))
    assert repr(many) == f"Payload: 2 postures, {many.mass.min():.4g} to {many.mass.max():.4g} kg (continuous)"
    one = ARM.payload(Q)
    assert repr(one) == f"Payload: {float(one.mass):.4g} kg, limited by {one.joint_name} (continuous)"
    assert all("\n" not in repr(thing) for thing in (ARM, found, many, one))


def test_what_is_no_arm() -> None:
    with pytest.raises(aw.InputError, match=r"^arm: got str, expected an ArmDescription"):
        aw.Arm("arm.toml")  # type: ignore[arg-type]


def test_from_files(tmp_path: Path) -> None:
    """The same arm through a URDF and through a TOML file."""
    chain = spherical_arm()
    urdf, toml = aw.load_arm(chain.write_urdf(tmp_path), tool="tool"), aw.load_arm(chain.write_toml(tmp_path))
    q = np.random.default_rng(1).uniform(-1, 1, (5, 6))
    for arm in (urdf, toml):
        assert arm.name == chain.name
        np.testing.assert_allclose(arm.tool_pose(q), [chain.tool_pose(row) for row in q], atol=1e-14)
        np.testing.assert_allclose(arm.gravity_torque(q), ARM.gravity_torque(q), atol=1e-10)
        assert arm.limits.upper == pytest.approx(ARM.limits.upper)
    assert isinstance(urdf.notes, tuple)
    with pytest.raises(aw.InputError):
        aw.load_arm(tmp_path / "none.toml")
