from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from armwright.describe.pose import (
    pointing,
    quaternion_xyzw,
    rigid,
    roll_pitch_yaw,
    take_direction,
    take_pose,
    take_position,
    turn_about,
)  # fmt: skip
from armwright.errors import InputError


def test_rotations_agree_with_scipy() -> None:
    rng = np.random.default_rng(1)
    for _ in range(20):
        angles = rng.uniform(-3, 3, 3)
        assert roll_pitch_yaw(angles) == pytest.approx(Rotation.from_euler("xyz", angles).as_matrix(), abs=1e-14)
        q = rng.normal(size=4)
        assert quaternion_xyzw(q) == pytest.approx(Rotation.from_quat(q).as_matrix(), abs=1e-14)
        axis = take_direction("axis", rng.normal(size=3))
        assert turn_about(axis, angles[0]) == pytest.approx(
            Rotation.from_rotvec(axis * angles[0]).as_matrix(), abs=1e-14
        )


def test_quarter_turns_are_exact() -> None:
    assert (turn_about((1, 0, 0), np.pi / 2) == [[1, 0, 0], [0, 0, -1], [0, 1, 0]]).all()


def test_pointing() -> None:
    for direction in ("down", "x", "-x", "y", (0.3, -0.2, 0.5)):
        z = take_direction("d", direction)
        rotation = pointing(z, 0.4)
        assert rotation @ rotation.T == pytest.approx(np.eye(3), abs=1e-14)
        assert np.linalg.det(rotation) == pytest.approx(1)
        assert rotation[:, 2] == pytest.approx(z, abs=1e-15)
    assert pointing(take_direction("d", "down"))[:, 0] == pytest.approx((1, 0, 0))


def test_poses_taken() -> None:
    assert (take_pose("pose", None) == np.eye(4)).all()
    assert (take_pose("pose", (0, "410 mm", 1))[:3, 3] == (0, 0.41, 1)).all()
    exact = np.eye(4)
    exact[:3, :3] = turn_about((0, 0, 1), 0.3)
    assert (take_pose("pose", exact) == exact).all()
    near = exact.copy()
    near[0, 0] += 5e-7
    made = take_pose("pose", near)
    assert made[:3, :3].T @ made[:3, :3] == pytest.approx(np.eye(3), abs=1e-15)


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (np.diag([1, 1, -1, 1.0]), "a reflection"),
        (np.diag([1, 1, 1.1, 1.0]), "off right angles and unit length"),
        (np.full((4, 4), np.nan), "not finite"),
        (np.eye(3), r"shape \(3, 3\)"),
        (np.zeros((4, 4)), "a last row"),
        (np.eye(4, dtype=bool), "bool"),
        ([[1, 2], [3]], "expected a 4x4 matrix"),
        ("down", "values with units"),
        ((1, 2, np.inf), "a finite number"),
    ],
)
def test_poses_refused(value: object, said: str) -> None:
    with pytest.raises(InputError, match=said) as caught:
        take_pose("pose", value)
    assert caught.value.problems[0].key == "pose"


@pytest.mark.parametrize("value", ["sideways", (0, 0, 0), (1, 2), (1, 2, np.nan), None, ("1 m", 0, 0)])
def test_directions_refused(value: object) -> None:
    with pytest.raises(InputError, match=r"^axis: got .*, expected one of up, down"):
        take_direction("axis", value)


def test_rigid_keeps_what_is_exact() -> None:
    pose = np.eye(4)
    assert (rigid("pose", pose) == pose).all()


@pytest.mark.parametrize("plain", [(0, 0, 0), (1, -2.5, 3e11), (-0.0, 1e-320, 7)])
def test_a_plain_tuple_is_what_a_list_is(plain: tuple[float, ...]) -> None:
    told, slowly = take_position("centre", plain), take_position("centre", list(plain))
    assert told.tobytes() == slowly.tobytes() and type(told) is type(slowly)


@pytest.mark.parametrize(
    "wrong", [(True, 0, 0), (1e13, 0, 0), (0, float("nan"), 0), (0, 0), (0, 0, "x"), (10**400, 0, 0)]
)
def test_a_tuple_that_is_no_position_is_refused_as_a_list_is(wrong: tuple[Any, ...]) -> None:
    with pytest.raises(InputError) as told:
        take_position("centre", wrong)
    with pytest.raises(InputError) as slowly:
        take_position("centre", list(wrong))
    assert str(told.value).replace("(", "[").replace(")", "]") == str(slowly.value).replace("(", "[").replace(")", "]")
