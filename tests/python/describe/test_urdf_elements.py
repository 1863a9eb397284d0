from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from armwright.describe import load_arm
from armwright.describe.urdf_elements import Reader, read_links
from armwright.errors import InputError
from cases.description_files import URDF


def test_numbers() -> None:
    etree = pytest.importorskip("lxml.etree")
    element = etree.fromstring('<a xyz="1 2  3" bad="1 x 3" far="1e300 0 0"/>')
    reader = Reader("a.urdf")
    assert tuple(reader.numbers(element, "a", "xyz", 3, None)) == (1, 2, 3)
    assert tuple(reader.numbers(element, "a", "rpy", 3, (0, 0, 1))) == (0, 0, 1)
    assert reader.problems == []
    for attribute in ("bad", "far", "none"):
        assert np.isfinite(reader.numbers(element, "a", attribute, 3, None)).all()
    assert [problem.key for problem in reader.problems] == ["a bad", "a far", "a none"]
    assert {problem.line for problem in reader.problems} == {1}


def test_moments_without_mass_are_told_of() -> None:
    etree = pytest.importorskip("lxml.etree")
    reader = Reader("a.urdf")
    root = etree.fromstring(
        '<robot><link name="a"><inertial><mass value="0"/><inertia ixx="1" iyy="1" izz="1"/></inertial></link></robot>'
    )
    read_links(reader, root)
    assert reader.notes == ["link 'a' has moments of inertia but no mass: they do not count"]


@pytest.mark.parametrize(
    ("limit", "speed", "noted"),
    [
        ('<limit effort="40" velocity="1.5"/>', 1.5, False),
        ('<limit effort="40" velocity="0"/>', math.inf, True),
        ('<limit effort="40"/>', math.inf, True),
    ],
)
def test_speeds(tmp_path: Path, limit: str, speed: float, noted: bool) -> None:
    (tmp_path / "a.urdf").write_text(URDF.replace('<limit effort="40" velocity="1"/>', limit), encoding="utf-8")
    arm = load_arm(tmp_path / "a.urdf")
    assert arm.joints[0].speed == speed
    assert any("'turn': no velocity limit" in note for note in arm.notes) == noted


def test_damping_is_noted(tmp_path: Path) -> None:
    text = URDF.replace('<limit effort="40"', '<dynamics damping="0.2"/><limit effort="40"')
    (tmp_path / "a.urdf").write_text(text, encoding="utf-8")
    assert any("damping and friction do not count" in note for note in load_arm(tmp_path / "a.urdf").notes)
    for bad in ('<dynamics friction="-1"/>', '<dynamics damping="x"/>'):
        (tmp_path / "a.urdf").write_text(text.replace('<dynamics damping="0.2"/>', bad), encoding="utf-8")
        with pytest.raises(InputError, match="joint 'turn' dynamics"):
            load_arm(tmp_path / "a.urdf")
    (tmp_path / "a.urdf").write_text(
        URDF.replace('effort="40" velocity="1"', 'effort="40" velocity="-1"'), encoding="utf-8"
    )
    with pytest.raises(InputError, match="joint 'turn' limit velocity: got -1"):
        load_arm(tmp_path / "a.urdf")
