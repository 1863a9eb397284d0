from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.studies.moving import Motion, name_parts, prepare, unit_load
from cases.moving_arms import driven

AT_TOOL = np.zeros(3)


def model_of(**changes: Any) -> Any:
    arm = driven()
    return aw.Arm(replace(arm, joints=tuple(replace(joint, **changes) for joint in arm.joints)))._model


def test_something_has_to_be_asked() -> None:
    with pytest.raises(aw.InputError, match=r"^tool_acceleration, .*: got none, expected at least one of them"):
        Motion()
    assert Motion(speed_share=0.0).terms == {
        "tool_acceleration": 0.0, "turn_acceleration": 0.0, "joint_acceleration_share": 0.0, "speed_share": 0.0,
    }  # fmt: skip
    assert Motion(1.5, 2.0, 0.3, 0.4).terms == {
        "tool_acceleration": 1.5, "turn_acceleration": 2.0, "joint_acceleration_share": 0.3, "speed_share": 0.4,
    }  # fmt: skip


def test_a_kilogram_with_its_radii_of_gyration() -> None:
    """I = m k² about the centre."""
    load = unit_load(np.array([0.1, 0.2, 0.3]), (0.1, 0.2, 0.5))
    assert load.mass == 1 and np.allclose(load.centre, [0.1, 0.2, 0.3])
    assert np.allclose(np.diag(load.tensor), [0.01, 0.04, 0.25])


@pytest.mark.parametrize(
    ("key", "changes", "missing"),
    [("joint_acceleration", {"acceleration": np.inf}, "acceleration"), ("speed_share", {"speed": np.inf, "drive": None},
      "speed")],
)  # fmt: skip
def test_a_share_of_no_limit_is_refused_with_the_joints(key: str, changes: dict[str, Any], missing: str) -> None:
    said = rf"^{key}: got 0.5, but axis 1, axis 2, .*axis 6 states no greatest {missing}, expected a greatest {missing}"
    with pytest.raises(aw.InputError, match=said):
        prepare(model_of(**changes), AT_TOOL, Motion(**{key: 0.5}))
    prepare(model_of(**changes), AT_TOOL, Motion(**{key: 0.0}, tool_acceleration=1.0))  # nothing is taken of it


def test_a_joint_that_states_no_speed_goes_as_fast_as_its_drive() -> None:
    setup = prepare(model_of(speed=np.inf), AT_TOOL, Motion(speed_share=1.0))
    assert setup.greatest_speed_share[0] == pytest.approx(1)


def test_a_speed_that_a_motor_does_not_reach_is_refused_with_what_it_does() -> None:
    """The share told, taken as it is, is one that goes; a thousandth more does not."""
    fast = model_of(speed=1000.0)
    with pytest.raises(aw.InputError, match=r"^speed_share: got 1, at which 'motor \d' of axis \d turns") as caught:
        prepare(fast, AT_TOOL, Motion(speed_share=1.0))
    most = float(caught.value.problems[0].expected.removeprefix("at most "))
    prepare(fast, AT_TOOL, Motion(speed_share=most))
    with pytest.raises(aw.InputError, match="speed_share"):
        prepare(fast, AT_TOOL, Motion(speed_share=most + 2e-4))


def test_an_arm_that_cannot_turn_its_tool_all_ways() -> None:
    arm = driven()
    short = aw.Arm(replace(arm, joints=arm.joints[:3], links=arm.links[:3]))._model
    prepare(short, AT_TOOL, Motion(tool_acceleration=1.0))
    with pytest.raises(aw.InputError, match=r"^turn_acceleration: got 2 rad/s², expected none: this arm cannot"):
        prepare(short, AT_TOOL, Motion(turn_acceleration=2.0))


def test_places_of_parts() -> None:
    setup = prepare(model_of(), AT_TOOL, Motion(tool_acceleration=1.0))
    names, place_of = name_parts(setup)
    assert len(set(names)) == len(names) and "" not in names
    axes, parts = np.meshgrid(np.arange(6), np.arange(-2, len(setup.part_names[0]) - 2), indexing="ij")
    places = place_of(axes, parts)
    for axis, part, place in zip(axes.flat, parts.flat, places.flat, strict=True):
        told = setup.part_names[axis][part + 2]
        assert (names[place] if place >= 0 else "") == told
    assert place_of(np.array([-1, 0]), np.array([0, -3])).tolist() == [-1, -1]
