# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

import math
from typing import Any

import pytest

from armwright.describe import Stage
from armwright.errors import InputError


def test_gains() -> None:
    """A screw turns once a lead; a pinion rolls its radius a radian: closed form."""
    assert Stage("gear", ratio=-53.7).gain == -53.7
    assert Stage("screw", lead="10 mm").gain == pytest.approx(2 * math.pi / 0.01)
    assert Stage("rack", radius="25 mm").gain == pytest.approx(40)
    assert Stage("belt", radius="20 mm").gain == pytest.approx(50)
    assert Stage("belt", ratio=2).gain == 2
    assert Stage("direct").gain == 1
    assert [Stage(k, **a).slides for k, a in (("belt", {"ratio": 2}), ("belt", {"radius": 1}), ("screw", {"lead": 1}))] == [
        False, True, True,
    ]  # fmt: skip


def test_what_is_left_out() -> None:
    stage = Stage("strain wave", ratio=101, efficiency=0.75, rated_torque="67 N*m", momentary_peak_torque="284 N*m")
    numbers = stage.numbers
    assert numbers["efficiency_back"] == 0.75
    assert (numbers["rated_torque"], numbers["repeated_peak_torque"], numbers["momentary_peak_torque"]) == (67, 67, 284)
    assert numbers["max_input_speed"] == math.inf and numbers["inertia"] == 0 and numbers["life_exponent"] == 3
    assert "back-driving efficiency not given, taken as the driving one, 0.75" in stage.assumptions[0]
    assert any("repeated peak torque not given, taken as the lower one that is, 67 N m" in t for t in stage.assumptions)
    only = Stage("gear", ratio=2, momentary_peak_torque=9)
    assert {only.numbers[f"{k}_torque"] for k in ("rated", "repeated_peak", "momentary_peak")} == {9}
    assert any("taken as the higher one that is" in text for text in only.assumptions)
    assert Stage("cycloidal", ratio=80).numbers["life_exponent"] == pytest.approx(10 / 3)
    assert Stage("direct").assumptions == ()
    whole = Stage("gear", ratio=2, efficiency=0.9, efficiency_back=0.8, rated_torque=1, repeated_peak_torque=2,
                  momentary_peak_torque=3, inertia=0, max_input_speed=400)  # fmt: skip
    assert whole.assumptions == ()


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({"kind": "worm", "ratio": 3}, 'Stage.kind: got "worm", expected one of belt, gear'),
        ({"kind": "gear"}, "Stage.ratio: got nothing, expected this key: a gear has one"),
        ({"kind": "gear", "ratio": 0}, "Stage.ratio: got 0"),
        ({"kind": "gear", "ratio": 2, "lead": 1}, "Stage.lead: got lead 1, expected no lead: a gear has none"),
        ({"kind": "screw", "ratio": 2, "lead": 1}, "Stage.ratio: got ratio 2, expected lead, and no ratio"),
        ({"kind": "belt", "ratio": 2, "radius": 1}, "Stage.ratio: got ratio 2, expected radius"),
        ({"kind": "rack"}, "Stage.radius: got nothing"),
        ({"kind": "direct", "ratio": 2}, "Stage.ratio: got 2"),
        ({"kind": "gear", "ratio": 2, "efficiency": -0.5}, "Stage.efficiency: got -0.5"),
        ({"kind": "gear", "ratio": 2, "efficiency": 1.2}, "Stage.efficiency: got 1.2"),
        ({"kind": "gear", "ratio": 2, "efficiency_back": "0 %"}, "Stage.efficiency_back: got"),
        ({"kind": "gear", "ratio": 2, "rated_torque": 5, "repeated_peak_torque": 4},
         "Stage.repeated_peak_torque: got 4 N m, expected at least the rated torque, 5 N m"),
        ({"kind": "gear", "ratio": 2, "repeated_peak_torque": 5, "momentary_peak_torque": 4},
         "Stage.momentary_peak_torque: got 4 N m, expected at least the repeated peak torque, 5 N m"),
        ({"kind": "gear", "ratio": 2, "rated_torque": 5, "momentary_peak_torque": 4}, "at least the rated torque, 5 N m"),
        ({"kind": "screw", "lead": 1, "rated_torque": "5 N*m"}, "Stage.rated_torque: got .* a unit of force"),
        ({"kind": "gear", "ratio": 2, "rated_life": "7000 h"}, "Stage.rated_torque: got nothing"),
        ({"kind": "gear", "ratio": 2, "stiffness": "5 N*m"}, "did you mean N.m/rad"),
    ],
)  # fmt: skip
def test_refusals(arguments: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError, match=said):
        Stage(**arguments)


def test_repr() -> None:
    assert repr(Stage("screw", lead="5 mm", efficiency=0.9)) == "Stage 'screw': screw, lead 5 mm, efficiency 0.9"
    assert repr(Stage("gear", ratio=3, name="spur")) == "Stage 'spur': gear, ratio 3, efficiency 0.95"
