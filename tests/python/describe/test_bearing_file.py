# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

import math
from pathlib import Path

import pytest

from armwright.describe import BearingPair, SlewingBearing, load_arm
from armwright.errors import InputError
from cases.borne import BEARING, PAIR, TORQUE, arm_with

MOTOR = 'motor = { continuous = "2.4 N*m", peak = "7.2 N*m", ratio = 101, efficiency = "80 %" }\n'


def test_bearings(tmp_path: Path) -> None:
    arm = arm_with(tmp_path, (TORQUE, BEARING), (MOTOR, PAIR))
    first, second, third = (joint.bearing for joint in arm.joints)
    assert isinstance(first, SlewingBearing) and isinstance(second, BearingPair) and third is None
    assert first == SlewingBearing("crossed roller", "120 mm ± 0.5 mm", 22e3, 41e3, "25 mm",
                                   limit_line=[(0, 900), ("20 kN", 400)], tilting_stiffness="180 N*m/arcmin",
                                   roller_count=38, name="main bearing")  # fmt: skip
    assert first.tilting_stiffness == pytest.approx(180 * 10800 / math.pi) and first.offset == 0.025
    assert (second.dynamic_ratings, second.static_ratings) == ((14e3, 12e3), (9e3, 9e3))
    assert second.effective_span == pytest.approx(0.082) and second.name == "bearing pair"
    assert any("shoulder: bearing pair: no moved ring" in text for text in arm.assumptions)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"crossed roller"', '"crossed rollers"', r'joint\[0\].bearing.kind: .*did you mean "crossed roller"'),
        ("dynamic_rating", "dynamic", r"bearing.dynamic: got an unknown key .*did you mean dynamic_rating"),
        ('"22 kN"', "22000", r"bearing.dynamic_rating: got 22000, expected a force with its unit"),
        ('"22 kN"', "nan", r"bearing.dynamic_rating: got nan"),
        ('"22 kN"', '["22 kN", "9 kN"]', r"bearing.dynamic_rating: got two forces, expected one"),
        ('"22 kN"', '"22 kN*m"', r"bearing.dynamic_rating: .*a unit of force"),
        ('"41 kN"', '"4,1 kN"', r"bearing.static_rating: .*no comma"),
        ('pitch_diameter = "120 mm ± 0.5 mm"', 'span = "60 mm"', r"bearing.span: .*no span: a bearing of kind crossed roller"),
        ('"20 kN", "400 N*m"', '"20 kN", 400', r"bearing.limit_line: .*points with units"),
        ('"20 kN", "400 N*m"', '"20 kN", "400 N"', r"bearing.limit_line\[1\]\[1\]: .*a unit of torque"),
        ('"180 N*m/arcmin"', '"180 N*m/armin"', r"bearing.tilting_stiffness: .*did you mean N\*m/arcmin"),
        ("roller_count = 38", 'roller_count = "many"', r"bearing.roller_count: got .many., expected a whole number"),
        ('"25 mm"', '"25"', r'bearing.offset: .*did you mean "25 mm"'),
        ('name = "main bearing"', "name = 7", "bearing.name: got 7, expected a text in quotes"),
    ],
)
def test_a_slewing_bearing_is_refused(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in BEARING
    with pytest.raises(InputError, match=said):
        arm_with(tmp_path, (TORQUE, BEARING.replace(old, new)))


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"back to back"', '"back to front"', r'joint\[0\].bearing.arrangement: .*did you mean "back to back"'),
        ('arrangement = "back to back"\n', "", "bearing.arrangement: got nothing, expected this key: how the two face"),
        ('span = "60 mm"', 'pitch_diameter = "60 mm"', "bearing.pitch_diameter: .*a bearing of kind angular contact has none"),
        ('"back to back"\nspan = "60 mm"', '"face to face"\nspan = "20 mm"', "bearing.span: got 20 mm, expected more than twice"),
        ('["14 kN", "12 kN"]', '["14 kN", "12 kN", "9 kN"]', "bearing.dynamic_rating: "),
        ('["14 kN", "12 kN"]', '["14 kN", 12]', "bearing.dynamic_rating: "),
        ('"30 deg"', '"30 %"', "bearing.contact_angle: .*a unit of contact angle"),
        ('"angular contact"', '"deep groove"', "bearing.contact_angle: .*no contact_angle: a deep groove bearing has none"),
    ],
)
def test_a_pair_is_refused(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in PAIR
    with pytest.raises(InputError, match=said):
        arm_with(tmp_path, (TORQUE, PAIR.replace(old, new)))


def test_one_that_slides_has_none(tmp_path: Path) -> None:
    sliding = f'[[joint]]\nkind = "prismatic"\nrange = ["0 mm", "900 mm"]\norigin = {{}}\n{BEARING}[joint.link]\nmass = "2 kg"\n'
    (tmp_path / "arm.toml").write_text(sliding, encoding="utf-8")
    with pytest.raises(InputError, match=r"joint\[0\].bearing: got .*none: the bearings here are those of joints that turn"):
        load_arm(tmp_path / "arm.toml")
