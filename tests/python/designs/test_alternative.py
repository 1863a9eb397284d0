"""Alternatives: by name, of parts, with prices."""

from __future__ import annotations

from typing import Any

import pytest

import armwright as aw
from armwright.designs.alternative import take_alternatives
from cases.designs import level_cell
from cases.driven_cells import driven_arm, motor


def test_alternatives_by_name_and_of_parts() -> None:
    cell = driven_arm(targets=level_cell().targets)
    slow = aw.Stage("strain wave", 160, 0.75, 0.7, rated_torque=300, name="slow")
    motors = {"big": motor(2.0, name="big"), "same": motor(1.0)}
    stages = {"slow": slow, "screw": aw.Stage("screw", lead=1)}
    tools, prices = {"tool": [aw.Tool(name="hook")]}, {"big": 400, "slow": 900, "hook": 30}
    told = take_alternatives(cell.description, tools, aw.Parts(motors, stages, {}), prices)
    names = {each.name: each.price for each in told}
    assert names["tool = hook"] == 30 and names["axis 2: big"] == 400
    assert "axis 1: same" not in names  # it is what is there
    assert not any("screw" in name for name in names)
    assert sum(name.endswith(": slow") for name in names) == 6


def test_prices_of_alternatives_by_either_name() -> None:
    stroke = {"track.stroke": ["1 m", 2.0]}
    cell = level_cell(track=aw.Track("x", 1.5)).description
    for prices, known in (({"track.stroke = 1 m": 5}, [5, None]), ({"1 m": 5}, [5, None]), ({"2.0": 6}, [None, 6])):
        assert [each.price for each in take_alternatives(cell, stroke, None, prices)] == known


@pytest.mark.parametrize(
    ("told", "word"), [(({},), "values"), ((3,), "values"), (({"x": 1}, "dear"), "price"), (({"x": 1}, 1, 3), "name")]
)
def test_what_makes_no_alternative_is_refused(told: tuple[Any, ...], word: str) -> None:
    with pytest.raises(aw.InputError, match=word):
        aw.Alternative(*told)
