from __future__ import annotations

import pickle
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from armwright.describe import Cycle, CycleLimits, Dwell, JointMove, Load, PickUp, SetDown
from armwright.errors import InputError

MOVES = (JointMove("a"), PickUp(), JointMove("b"), SetDown(), Dwell(1))


def test_cycles() -> None:
    cycle = Cycle(
        MOVES, period="20 s", limits=CycleLimits(joint_speed={"axis 1": "90 deg/s"}), loads=Load(2, name="pot")
    )
    assert repr(cycle) == "Cycle 'cycle': 5 moves, every 20 s"
    assert repr(Cycle(JointMove("a"), repeats=False)) == "Cycle 'cycle': 1 moves, once"  # type: ignore[arg-type]
    assert cycle.limits is not None and cycle.limits.joint_speed[0][0] == "axis 1"
    assert replace(cycle, period=None).digest() != cycle.digest()
    assert replace(cycle, name="cycle") == cycle and pickle.loads(pickle.dumps(cycle)) == cycle
    assert repr(Cycle(MOVES)).endswith("as fast as it goes")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({"moves": ()}, "Cycle.moves: got 0 moves"),
        ({"moves": (PickUp(), SetDown())}, "Cycle.moves: got 2 moves, expected at least one that takes time"),
        ({"moves": ("a",)}, r'Cycle.moves\[0\]: got "a", expected one of JointMove'),
        ({"moves": "a"}, "Cycle.moves: got"),
        ({"moves": (*MOVES, SetDown())}, r"Cycle.moves\[5\]: got set down while nothing is carried"),
        ({"moves": (PickUp(), *MOVES)}, r"Cycle.moves\[2\]: got a second load picked up"),
        ({"moves": MOVES[:3]}, "Cycle.moves: got a load carried at the end"),
        ({"moves": MOVES, "period": "0 s"}, "Cycle.period: got 0 s"),
        ({"moves": MOVES, "period": 5, "repeats": False}, "Cycle.period"),
        ({"moves": MOVES, "timing": "fast"}, 'Cycle.timing: got "fast"'),
        ({"moves": MOVES, "limits": 5}, "Cycle.limits: got 5"),
        ({"moves": MOVES, "start": 5}, "Cycle.start: got 5"),
        ({"moves": MOVES, "repeats": 1}, "Cycle.repeats: got 1"),
        ({"moves": MOVES, "period": 1e12}, r"Cycle.period: got .*, at most 1e\+06 s"),
    ],
)
def test_refusals(arguments: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError, match=said):
        Cycle(**arguments)


def test_limits_refused() -> None:
    with pytest.raises(InputError) as caught:
        CycleLimits(speed=2, joint_speed={"a": "1 kg"}, tool_acceleration=-1)
    assert [problem.key for problem in caught.value.problems] == [
        "CycleLimits.speed", "CycleLimits.joint_speed.a", "CycleLimits.tool_acceleration",
    ]  # fmt: skip


@pytest.mark.parametrize("told", [np.eye(4), np.zeros(0), 0, False, "", [1.0]])
def test_limits_by_joint_that_name_no_joints(told: Any) -> None:
    with pytest.raises(InputError, match=r"^CycleLimits.joint_speed: got .*, expected values by the joints' names"):
        CycleLimits(joint_speed=told)
    assert CycleLimits(joint_speed=None).joint_speed == ()


def test_what_takes_longer_than_days_is_refused_by_its_own_key() -> None:
    with pytest.raises(InputError, match=r"^Dwell.time: got .*, at most 1e\+06 s"):
        Dwell(1e12)
    with pytest.raises(InputError, match=r"^JointMove.duration: got .*, at most 1e\+06 s"):
        JointMove("a", duration="400 h")
