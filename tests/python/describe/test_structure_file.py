# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

from pathlib import Path

import pytest

from armwright.describe import LinkStiffness, Tube
from armwright.errors import InputError
from cases.borne import STIFF, TUBE, UPPER, arm_with

BASE = 'centre = "0, 0, 90 mm"\n'


def test_a_tube_stands_in_the_frame_of_the_row(tmp_path: Path) -> None:
    """The row of the upper arm is Rz(-90 deg) Tx(480 mm): (-400, 20, 0) mm in it is 80 mm out and 20 mm aside, turned
    back; its x points along -y of the joint's frame."""
    arm = arm_with(tmp_path, (UPPER, TUBE.replace('up = "x"', 'up = "y"')))
    tube = arm.links[1].structure
    assert isinstance(tube, Tube)
    assert tube.start == pytest.approx((0.02, -0.08, 0)) and tube.up == pytest.approx((1, 0, 0))
    assert tube.end is None and tube.outer == (0.08, 0.06) and tube.welded and tube.safety == 2
    assert arm.structure_line(1)[1] == pytest.approx((0, -0.48, 0)), "the next row's origin is this one's frame"
    assert arm.links[0].structure is None and arm.links[1].mass == 6


def test_known_stiffness_and_a_base(tmp_path: Path) -> None:
    arm = arm_with(tmp_path, (UPPER, STIFF), (BASE, 'structure = { section = "round", outer = "200 mm", wall = "6 mm", material = "steel", end = "0, 0, 180 mm" }\n'))
    assert arm.links[1].structure == LinkStiffness(9e4, 7e4, end=arm.links[1].structure.end)  # type: ignore[union-attr]
    assert arm.links[1].structure.end == pytest.approx((0, -0.78, 0))  # type: ignore[union-attr]
    with pytest.raises(InputError, match=r"base.structure.end: got the same point as the start"):  # joint 1 is at the base's origin
        arm_with(tmp_path, (BASE, 'structure = { bending = "90 kN*m/rad" }\n'))


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"rectangular"', '"rectangle"', r'joint\[1\].link.structure.section: .*did you mean "rectangular"'),
        ("outer", "outside", "structure.outside: got an unknown key .*did you mean outer"),
        ('"80, 60 mm"', '"80,60 mm"', "structure.outer: .*no comma"),
        ('"80, 60 mm"', "80", "structure.outer: got 80, expected a length with its unit"),
        ('"80, 60 mm"', '"80, 60, 4 mm"', "structure.outer: "),
        ('"80, 60 mm"', '"80 mm"', "structure.outer: got one size, expected two"),
        ('"4 mm"', '"40 mm"', "structure.wall: got 40 mm, expected less than half"),
        ('wall = "4 mm"\n', "", "structure.wall: got nothing, expected this key: a tube has one"),
        ('"aluminium 6082-T6"', '"aluminum 6082-T6"', r'structure.material.*: .*did you mean "aluminium 6082-T6"'),
        ('"aluminium 6082-T6"', '{ name = "own" }', r"structure.material.name: .*or another name, with elastic_modulus"),
        ('"aluminium 6082-T6"', '{ name = "own", elastic_modulus = "70" }', r'structure.material.elastic_modulus: .*did you mean "70 GPa"'),
        ('up = "x"', "", "structure.up: got nothing, expected this key"),
        ('up = "x"', 'up = "x"\nbending = "90 kN*m/rad"', "structure.bending: got bending besides a tube"),
        ("welded = true", 'welded = "yes"', "structure.welded: got \"yes\", expected true or false, without quotes"),
        ('start = "-400, 20, 0 mm"', 'start = "0, 0, 0 mm"', r"structure.end: got the same point as the start"),
        ('start = "-400, 20, 0 mm"\nup = "x"', 'start = "-400, 0, 0 mm"\nup = "x"', r"joint\[1\].link.structure.up: .*across the line"),
    ],
)
def test_refusals(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in TUBE
    with pytest.raises(InputError, match=said):
        arm_with(tmp_path, (UPPER, TUBE.replace(old, new)))


def test_nothing_told(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"structure.section: got nothing, expected a tube"):
        arm_with(tmp_path, (UPPER, '[joint.link.structure]\nstart = "0, 0, 0 mm"\n'))
