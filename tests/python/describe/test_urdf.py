# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest

from armwright.describe import Box, CellDescription, Cylinder, load_arm
from armwright.errors import InputError
from cases.description_files import URDF, chain_pose


def load(folder: Path, text: str = URDF, base: str | None = None, tool: str | None = None):  # type: ignore[no-untyped-def]
    (folder / "arm.urdf").write_text(text, encoding="utf-8")
    return load_arm(folder / "arm.urdf", base, tool)


def test_chain_and_folding(tmp_path: Path) -> None:
    arm = load(tmp_path)
    assert repr(arm) == "ArmDescription 'bench arm': 2 joints, 9 kg"
    assert arm.joint_names == ("turn", "bend")
    turn, bend = arm.joints
    assert turn.lower == -np.inf and (turn.torque_continuous, turn.torque_peak) == (40, 40)
    assert (bend.lower, bend.upper, bend.torque_peak) == (-2, 2, 20)
    assert tuple(turn.axis) == (0, 0, 1)
    base, upper = arm.base_link, arm.links[0]
    assert base.mass == 5 and tuple(base.centre) == (0, 0, 0.1)
    assert upper.mass == 3 and upper.centre == pytest.approx((0, 0, 0.3))
    # The motor of 1 kg 0.3 m above a link of 2 kg: 2/3 kg m² times 0.09; the link's own axes turned a quarter about z.
    assert upper.inertia == pytest.approx(np.diag((0.02 + 0.06, 0.03 + 0.06, 0.01)), abs=1e-15)
    assert [type(shape) for shape in upper.shapes] == [Cylinder, Box]
    assert tuple(upper.shapes[1].pose[:3, 3]) == (0, 0, 0.5)
    assert chain_pose(arm, (0, 0.25))[:3, 3] == pytest.approx((0.3 * np.cos(0.75), 0, 0.5 - 0.3 * np.sin(0.75)))


def test_notes(tmp_path: Path) -> None:
    notes = load(tmp_path).notes
    assert "tool link 'hand': there the moving joints part (open, follow)" in notes
    assert "joint 'open' is off the chain: it stands at 0.01" in notes
    assert "joint 'follow', which follows 'open', is off the chain: it stands at 0" in notes
    assert "link 'motor' has no inertia: it counts as a point mass" in notes


def test_ends_by_name(tmp_path: Path) -> None:
    assert load(tmp_path, base="base").base_link.name == "base"
    assert load(tmp_path, tool="fore").flange[:3, 3] == pytest.approx((0, 0, 0))
    assert load(tmp_path, tool="left").joint_names == ("turn", "bend", "open")
    for base, tool, said in (
        ("bas", None, r"base: got \"bas\", expected the name of a link: world, .*did you mean base"),
        (None, "hnad", "tool: .*did you mean hand"),
        ("fore", "upper", "link 'upper', which does not hang on 'fore', expected a link beyond the base link"),
        ("upper", "motor", "joints: got 0 joints between 'upper' and 'motor', expected 1 to 12"),
        (None, "right", r"joint 'follow' mimic: got a joint that follows 'open'"),
    ):
        with pytest.raises(InputError, match=said) as caught:
            load(tmp_path, URDF, base, tool)
        assert caught.value.problems[0].file.endswith("arm.urdf")


@pytest.mark.parametrize(
    ("old", "new", "line", "said"),
    [
        ('<parent link="fore"/>', '<parent link="for"/>', 21, "joint 'wrist' parent: got \"for\", expected the name of a link of this "
         "file (did you mean fore?)"),
        ('child link="motor"', 'child link="fore"', 19, "joint 'bend' child: got link 'fore', which joint 'bolt' moves already, "
         "expected one parent for each link"),
        ('name="bend"', 'name="turn"', 19, "joint 'turn': got a second joint of this name, expected a different name for each"),
        ('"revolute"', '"revolut"', 19, "joint 'bend' type: got \"revolut\", expected one of revolute, continuous, prismatic, fixed, "
         "floating, planar (did you mean revolute?)"),
        ('lower="-2" upper="2"', 'lower="2" upper="-2"', 20, "joint 'bend' limit: got lower 2, upper -2, expected a lower limit below "
         "the upper one"),
        ('lower="-2"', 'lower="nan"', 20, "joint 'bend' limit lower: got \"nan\", expected a finite number"),
        ('xyz="0 0 0.4"', 'xyz="0 0"', 19, "joint 'bend' origin xyz: got \"0 0\", expected 3 finite numbers, separated by blanks"),
        ('xyz="0 1 0"/><limit lower="-2"', 'xyz="0 0 0"/><limit lower="-2"', 20, "joint 'bend' axis: got 0 0 0, expected a "
         "direction, not all 0"),
        ('effort="20"', 'effort="-20"', 20, "joint 'bend' limit effort: got -20, expected more than 0 (0: not stated)"),
        ('<mass value="2"/>', '<mass value="-2"/>', 5, "link 'upper' mass: got -2 kg, expected 0 kg or more"),
        ('<mass value="2"/>', '<mass value="heavy"/>', 5, "link 'upper' mass value: got \"heavy\", expected a finite number"),
        ('ixx="0.03"', 'ixx="3"', 6, "link 'upper' inertia: got principal moments 0.01, 0.02, 3 kg m², expected moments of 0 or "
         "more, none larger than the sum of the other two"),
        ('radius="0.05"', 'radius="0"', 7, "link 'upper' collision cylinder radius: got 0.0, expected a length with its unit, as "
         '"410 mm", more than 0 m'),
        ('radius="0.05"', "", 7, "link 'upper' collision cylinder radius: got nothing, expected a number"),
        ("<link name=\"hand\"/>", "<link/>", 12, "link: got no name, expected a name"),
    ],
)  # fmt: skip
def test_messages(tmp_path: Path, old: str, new: str, line: int, said: str) -> None:
    assert URDF.count(old) == 1
    with pytest.raises(InputError) as caught:
        load(tmp_path, URDF.replace(old, new))
    assert f"arm.urdf:{line}: {said}" in str(caught.value)


def test_a_circle(tmp_path: Path) -> None:
    circle = '<joint name="back" type="fixed"><parent link="hand"/><child link="world"/></joint></robot>'
    with pytest.raises(
        InputError, match="base - fore - hand - upper - world, expected a tree: these links go in a circle"
    ):
        load(tmp_path, URDF.replace("</robot>", circle))
    with pytest.raises(InputError, match="expected a tree"):
        load(
            tmp_path,
            '<robot><link name="a"/><joint name="j" type="fixed"><parent link="a"/><child link="a"/></joint></robot>',
        )


def test_a_fixed_range_or_several_bases(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="joint 'bend' limit: got lower and upper both 0, expected"):
        load(tmp_path, URDF.replace('lower="-2" upper="2"', 'lower="0" upper="0"'))
    with pytest.raises(InputError, match="several links without a parent: world, left"):
        load(tmp_path, URDF.replace('<child link="left"/>', '<child link="alone"/>').replace(
            "</robot>", '<link name="alone"/><link name="x"/><joint name="y" type="fixed"><parent link="left"/><child link="x"/>'
            "</joint></robot>"))  # fmt: skip


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("<sdf/>", "its first element is <robot>"),
        ("<robot/>", "expected at least two links"),
        ('<robot xmlns:xacro="http://x"><xacro:arm/></robot>', "expand the macros first"),
        ('<!DOCTYPE r [<!ENTITY a "b">]><robot name="&a;"/>', "no document type and no entities"),
        ("<robot><link name='a'/></robot>", "0 joints between"),
        ("<robot><joint/></robot>", "at least two links"),
    ],
)
def test_no_urdf(tmp_path: Path, text: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        load(tmp_path, text)


def test_in_an_arm_file(tmp_path: Path) -> None:
    (tmp_path / "arm.urdf").write_text(URDF, encoding="utf-8")
    (tmp_path / "arm.toml").write_text('name = "ours"\nurdf = { file = "arm.urdf", tool = "fore" }', encoding="utf-8")
    assert repr(load_arm(tmp_path / "arm.toml")) == "ArmDescription 'ours': 2 joints, 9 kg"


def test_what_is_surely_a_slip_is_noted(tmp_path: Path) -> None:
    """Links without a mass, and ranges that are told in degrees; the same notes are told with every result."""
    bare = load(tmp_path, re.sub(r"<inertial>.*?</inertial>", "", URDF, flags=re.S))
    assert f"no mass told, taken as 0 kg: {', '.join(link.name for link in bare.links)}" in bare.notes
    assert not any("no mass told" in note for note in load(tmp_path).notes)
    assert CellDescription(bare).assumptions[: len(bare.notes)] == bare.notes
    degrees = load(tmp_path, URDF.replace('lower="-2" upper="2"', 'lower="-115" upper="115"'))
    note = "joint 'bend': its range, -115 to 115 rad, is 37 turns: a URDF's angles are in radians, not degrees"
    assert note in degrees.notes and not any("turns" in note for note in load(tmp_path).notes)
