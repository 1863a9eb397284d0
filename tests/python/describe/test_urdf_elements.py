from __future__ import annotations

import numpy as np
import pytest

from armwright.describe.urdf_elements import Reader, read_links


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
