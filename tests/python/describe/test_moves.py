from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from armwright.describe import ArcMove, Dwell, JointMove, LineMove, Load, PickUp, SetDown
from armwright.describe.drive_units import MOTION_LIMITS
from armwright.describe.moves import take_by_joint, take_goal
from armwright.errors import InputError


def test_goals() -> None:
    assert take_goal("to", " rack 1 ") == "rack 1"
    assert take_goal("to", np.eye(4)).shape == (4, 4)
    assert take_goal("to", (0.5, "90 deg", "100 mm")) == (("", 0.5), ("rad", math.pi / 2), ("m", 0.1))
    for bad in (5, (), {"a": 1}, ("3 kg",), (math.nan,), np.zeros((4, 4))):
        with pytest.raises(InputError, match=r"^to"):
            take_goal("to", bad)


def test_moves() -> None:
    move = JointMove("rack", blend="50 mm", speed="60 %", tool_speed="250 mm/s", duration="2 s", timing="trapezoidal")
    assert (move.blend, move.speed, move.tool_speed, move.duration) == (0.05, 0.6, 0.25, 2)
    assert not move.stops and JointMove("rack").stops
    assert JointMove("rack", through=("a", (1, 2)), blend=0.1).stops
    assert not JointMove("rack", through="a", blend=0.1, stops=False).stops
    assert repr(LineMove("rack", "approach")) == "LineMove to approach of rack"
    assert LineMove(np.eye(4), track_to="1 m").track_to == 1
    assert tuple(ArcMove("rack", via=("1 m", 0, 0)).via) == (1, 0, 0)
    assert replace(move, speed=0.5).blend == 0.05 and replace(move, speed=0.5) != move
    assert Dwell("500 ms").time == 0.5 and repr(PickUp()) == "PickUp the load of the cell"
    assert repr(PickUp(Load(2, name="pot"))) == "PickUp pot" and repr(SetDown()) == "SetDown"


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: JointMove("a", at="above"), 'JointMove.at: got "above"'),
        (lambda: JointMove((1, 2), at="approach"), "JointMove.at: got .* a work point's name"),
        (lambda: JointMove("a", speed=0), "JointMove.speed: got 0"),
        (lambda: JointMove("a", speed="120 %"), "JointMove.speed"),
        (lambda: JointMove("a", tool_speed=0), "JointMove.tool_speed: got 0"),
        (lambda: JointMove("a", turn_speed="1 Hz"), "did you mean turn/s"),
        (lambda: JointMove("a", blend=-1), "JointMove.blend: got -1"),
        (lambda: JointMove("a", through="b"), "JointMove.blend: got 0 m, expected more than 0 m"),
        (lambda: JointMove("a", through=5), "JointMove.through: got 5"),
        (lambda: JointMove("a", stops=False), "JointMove.blend: got 0 m, .* from its end"),
        (lambda: JointMove("a", via_approach=True, duration=2), "JointMove.duration: got 2 s, expected none"),
        (lambda: JointMove("a", track="after arm"), 'JointMove.track: got "after arm"'),
        (lambda: JointMove("a", timing="fast"), 'JointMove.timing: got "fast"'),
        (lambda: JointMove((1, 2), via_approach=True), "JointMove.via_approach"),
        (lambda: LineMove((1, 2)), "LineMove.to: got a posture"),
        (lambda: LineMove("a", track_to="1 s"), "LineMove.track_to"),
        (lambda: ArcMove("a"), "ArcMove.via: got nothing"),
        (lambda: Dwell(-1), "Dwell.time: got -1"),
        (lambda: PickUp(5), "PickUp.load: got 5"),  # type: ignore[arg-type]
    ],
)
def test_refusals(make: Any, said: str) -> None:
    with pytest.raises(InputError, match=said):
        make()


def test_everything_wrong_with_a_move_is_told_at_once() -> None:
    with pytest.raises(InputError) as caught:
        JointMove("", at="x", speed=2, tool_jerk=-1, timing="x", track="x")
    assert [problem.key for problem in caught.value.problems] == [
        f"JointMove.{key}" for key in ("to", "speed", "tool_jerk", "at", "timing", "track")
    ]


def test_values_by_joint() -> None:
    take = take_by_joint(MOTION_LIMITS["speed"])
    assert take("speed", {"b": 2, "a": "90 deg/s", "track": "1 m/s"}) == (
        ("a", ("rad/s", pytest.approx(math.pi / 2))), ("b", ("", 2)), ("track", ("m/s", 1)),
    )  # fmt: skip
    assert take("speed", take("speed", {"a": "90 deg/s"})) == take("speed", {"a": "90 deg/s"})
    for bad in ({"a": "90 deg"}, {"a": 0}, {"": 1}, 5, "a"):
        with pytest.raises(InputError):
            take("speed", bad)
