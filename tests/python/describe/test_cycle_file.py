# ruff: noqa: E501  messages stand whole
from __future__ import annotations

import math
from pathlib import Path

import pytest

from armwright.describe import ArcMove, Cycle, JointMove, LineMove, PickUp, load_cell, load_cycle
from armwright.errors import InputError
from cases.cycle_files import CYCLE
from cases.description_files import write_cell


def load(folder: Path, text: str, named: bool = True) -> Cycle:
    cell = load_cell(write_cell(folder)) if named else None
    (folder / "cycle.toml").write_text(text, encoding="utf-8")
    return load_cycle(folder / "cycle.toml", cell)


def test_a_cycle(tmp_path: Path) -> None:
    cycle = load(tmp_path, CYCLE)
    assert (cycle.name, cycle.start, cycle.period, cycle.loads[0].mass) == ("rack to tub", "rack 1", 20, 3)
    limits = cycle.limits
    assert limits is not None and (limits.speed, limits.tool_speed) == (0.8, 1)
    assert dict(limits.joint_speed) == {"shoulder": ("rad/s", pytest.approx(math.pi / 2)), "track": ("m/s", 0.8)}
    pick, _, line, joints, arc, _, last = cycle.moves
    assert isinstance(pick, PickUp) and pick.load == "pot"
    assert isinstance(line, LineMove) and (line.to, line.at, line.tool_speed) == ("rack 1", "approach", 0.25)
    assert isinstance(joints, JointMove) and (joints.blend, joints.speed, joints.track) == (0.05, 0.5, "before arm")
    assert joints.through[0] == "rack 1" and joints.through[1][1] == ("rad", pytest.approx(math.pi / 18))
    assert isinstance(arc, ArcMove) and tuple(arc.via) == pytest.approx((0.9, 0.3, 0.6)) and arc.duration == 2
    assert arc.to[:3, 3] == pytest.approx((0.8, 0.3, 0.7))
    assert isinstance(last, JointMove) and last.via_approach
    assert load(tmp_path, CYCLE, named=False) == cycle


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('start = "rack 1"', 'start = "rack1"', '2: start: got "rack1", expected the name of a work point: "glaze tub", "rack 1" (did you mean "rack 1"?)'),
        ('"shoulder" =', '"sholder" =', '8: limits.joint_speed.sholder: got "sholder", expected the name of a joint: "track", "axis 1", "shoulder", "axis 3" (did you mean "shoulder"?)'),
        ('"90 deg/s"', '"90 deg"', '8: limits.joint_speed.shoulder: got "90 deg", expected a unit of angular speed'),
        ('"90 deg/s"', "90", "8: limits.joint_speed.shoulder: got 90, expected a quantity with its unit, in quotes"),
        ('load = "pot"', 'load = "pto"', '17: move[0].load: got "pto", expected the name of a load: "load", "pot" (did you mean "pot"?)'),
        ('to = "glaze tub"', 'to = "glase tub"', '31: move[3].to: got "glase tub", expected the name of a work point'),
        ('through = ["rack 1", [', 'through = ["rack 2", [', '32: move[3].through[0]: got "rack 2", expected the name of a work point'),
        ('"10 deg", "20 deg"', '10, "20 deg"', "32: move[3].through[1]: got ['1 m', 10, '20 deg', '0 deg'], expected the name of a work point, or a posture"),
        ('"10 deg", "20 deg"', '"10 kg", "20 deg"', '32: move[3].through[1][1]: got "10 kg", expected a unit of angle'),
        ('time = "500 ms"', "", "move[1].time: got nothing, expected this key: how long it stands still"),
        ('kind = "dwell"', 'kind = "wait"', '20: move[1].kind: got "wait", expected one of "joints", "line", "arc", "dwell", "pick up", "set down"'),
        ('via = "900, 300, 600 mm"', "", "move[4].via: got nothing"),
        ('kind = "set down"', 'kind = "set down"\nload = "pot"', "46: move[5].load: got \"pot\", expected no load: a move of kind set down has none"),
        ('via_approach = true', 'posture = ["0 m", "0 deg", "0 deg", "0 deg"]', "move[6].posture: got to and posture, expected one of to, posture and pose"),
        ('kind = "set down"', 'kind = "pick up"', "move[5]: got a second load picked up"),
        ('timing = "trapezoidal"', 'timing = "trapezodal"', 'did you mean "trapezoidal"'),
        ('period = "20 s"', 'period = "20"', '3: period: got "20", expected a time with its unit, as "1.5 s", at least 0 s, '
         'at most 1e+06 s (did you mean "20 s"?)'),
        ('blend = "50 mm"', "", "move[3].blend: got 0 m, expected more than 0 m"),
    ],
)  # fmt: skip
def test_messages(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert CYCLE.count(old) == 1
    with pytest.raises(InputError) as caught:
        load(tmp_path, CYCLE.replace(old, new))
    assert said in str(caught.value).replace(str(tmp_path), "")


def test_everything_wrong_is_told_at_once(tmp_path: Path) -> None:
    bad = (
        CYCLE.replace('start = "rack 1"', 'start = "rack"')
        .replace('"pot"\nmass', '"pot"\nmas')
        .replace('"500 ms"', '"5"')
        .replace('"glaze tub"', '"tub"')
    )
    with pytest.raises(InputError) as caught:
        load(tmp_path, bad)
    assert {problem.key for problem in caught.value.problems} == {
        "start",
        "load[0].mas",
        "move[1].time",
        "move[3].to",
        "move[0].load",
    }
