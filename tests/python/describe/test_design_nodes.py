# ruff: noqa: E501  messages and tables stand whole
"""The names that bearings, structures, bolts and guides have; the rest of the tree is in test_design_numbers.py."""

from __future__ import annotations

from dataclasses import replace

import pytest

from armwright.describe import Base, BoltPattern, CellDescription, Guide, Joint, Link, Tube
from armwright.describe.arm import ArmDescription
from armwright.describe.design_numbers import design_number, design_numbers, design_part, with_numbers
from armwright.describe.track import Track
from armwright.errors import InputError
from cases.borne import BACK_TO_BACK


@pytest.fixture(scope="module")
def cell() -> CellDescription:
    tube = Tube("rectangular", ("80 mm", "60 mm ± 1 mm"), "4 mm", "steel", up="x")
    arm = ArmDescription((Joint(range=(-1, 1), bearing=BACK_TO_BACK),), (Link("a", 2, structure=tube),), flange=(0, 0, 0.4))
    guide = Guide(("-0.1 m ± 1 mm", 0.1), ((-0.1, 0.1), 0.0), dynamic_rating="17 kN", rating_distance="50 km")
    bolts = BoltPattern([(0.1, 0), (-0.1, 0)], preload="30 kN")
    return CellDescription(arm, Track("x", 2, guide=guide), base=Base(bolts, (0.3, 0.28), (0.01, 0)))


@pytest.mark.parametrize(
    ("path", "value", "tolerance", "unit"),
    [
        ("arm.joints[axis].bearing.dynamic_rating.near", 14e3, 0, "N"),
        ("arm.joints[axis].bearing.static_rating", 9e3, 0, "N"),
        ("arm.links[a].structure.outer.height", 0.06, 0.001, "m"),
        ("arm.links[a].structure.material.yield_strength", 235e6, 0, "Pa"),
        ("track.guide.rails[0]", -0.1, 0.001, "m"),
        ("track.guide.blocks[0][1]", 0.1, 0, "m"),
        ("track.guide.blocks[1][0]", 0, 0, "m"),
        ("base.bolts.positions[1].x", -0.1, 0, "m"),
        ("base.plate.width", 0.28, 0, "m"),
        ("base.plate_centre.x", 0.01, 0, "m"),
    ],
)
def test_names(cell: CellDescription, path: str, value: float, tolerance: float, unit: str) -> None:
    number = design_number(cell, path)
    assert (number.value, number.tolerance, number.unit) == (pytest.approx(value), pytest.approx(tolerance), unit)
    made = with_numbers(cell, {path: value + 0.001 * (abs(value) or 1)})
    assert design_number(made, path).value == pytest.approx(value + 0.001 * (abs(value) or 1))
    before, after = ({n.path: n.value for n in design_numbers(each)} for each in (cell, made))
    assert {key for key in before if before[key] != after[key]} == {path}


def test_directions_and_distances_of_ratings_are_none(cell: CellDescription) -> None:
    paths = [number.path for number in design_numbers(cell)]
    assert not [path for path in paths if path.endswith((".up.x", ".up")) or "rating_distance" in path or "limit_line" in path]


def test_a_longer_link_has_a_longer_tube(cell: CellDescription) -> None:
    """Where its end is not told: that is the next joint, or the flange. The mass stays."""
    made = with_numbers(cell, {"arm.links[a].length": "600 mm"}).arm
    assert made.structure_line(0)[1].tolist() == [0, 0, 0.6] and made.links == cell.arm.links


def test_what_was_not_told_and_what_cannot_be(cell: CellDescription) -> None:
    made = with_numbers(cell, {"track.guide.height": "60 mm", "base.friction": 0.15})
    assert made.track is not None and made.track.guide is not None and made.track.guide.height == 0.06
    part = design_part(cell, "arm.joints[axis].bearing")
    assert with_numbers(cell, {"arm.joints[axis].bearing": replace(part, preload=500)}).arm.joints[0].bearing.preload == 500  # type: ignore[union-attr]
    with pytest.raises(InputError, match=r"base.bolts.positions\[0\].x .*: got bolt 1 .*beside the plate"):
        with_numbers(cell, {"base.bolts.positions[0].x": "1 m"})
    with pytest.raises(InputError, match=r"track.guide.rails\[0\]"):
        with_numbers(cell, {"track.guide.rails[0]": 0.1})
    with pytest.raises(InputError, match=r'did you mean .track.guide.rails\[0\]'):
        with_numbers(cell, {"track.guide.rail[0]": 0.1})
