
from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from armwright.describe import ArmDescription, Joint, Link, LinkStiffness, Material, Track, Tube
from armwright.describe.structure import carried_structure
from armwright.errors import InputError

ROUND = {"section": "round", "outer": "100 mm", "wall": "4 mm", "material": "steel"}
BOX = {"section": "rectangular", "outer": "80, 60 mm", "wall": "4 mm", "material": "aluminium", "up": "z"}


def arm_of(structure: Any, length: float = 0.4, **more: Any) -> ArmDescription:
    joints = (Joint("axis 1", range=(-1, 1)), Joint("axis 2", placement=(0, 0, length), range=(-1, 1)))
    return ArmDescription(joints, (Link("a", 2, structure=structure), Link("b", 1)), flange=(0, 0, 0.1), **more)


def test_what_is_told() -> None:
    tube = Tube(**BOX)  # type: ignore[arg-type]
    assert tube.outer == (0.08, 0.06) and tube.material == Material("aluminium") and tube.up.tolist() == [0, 0, 1]
    assert Tube(**BOX, welded=True).weld_share == 0.43 and tube.weld_share == 1  # type: ignore[arg-type]
    assert Tube(**ROUND, welded=True, weld_factor="60 %").weld_share == 0.6  # type: ignore[arg-type]
    iron = Tube(**(ROUND | {"material": Material("cast iron", "110 GPa")}), welded=True)  # type: ignore[arg-type]
    assert iron.weld_share is None
    assert Tube(**BOX, welded=True).assumptions == (  # type: ignore[arg-type]
        "tube: aluminium taken as 6060-T66: yield 150 MPa",
        "tube: no weld factor: 0.43 of the yield taken beside welds of aluminium",
    )


def test_the_line_goes_from_joint_to_joint() -> None:
    arm = arm_of(Tube(**ROUND))  # type: ignore[arg-type]
    assert [end.tolist() for end in arm.structure_line(0)] == [[0, 0, 0], [0, 0, 0.4]]
    assert [end.tolist() for end in arm.structure_line(1)] == [[0, 0, 0], [0, 0, 0.1]]
    told = arm_of(Tube(**ROUND, start=(0, 0, 0.1), end=(0.1, 0, 0.3)))  # type: ignore[arg-type]
    assert [end.tolist() for end in told.structure_line(0)] == [[0, 0, 0.1], [0.1, 0, 0.3]]
    assert arm.digest() != arm_of(None).digest()


def test_it_is_carried_along() -> None:
    """By a quarter turn about z and a shift along x."""
    pose = np.array([[0, -1, 0, 1], [1, 0, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1.0]])
    tube = Tube(**(BOX | {"up": "x"}), start=("0.2 m ± 1 mm", "0 m", "0 m"))  # type: ignore[arg-type]
    moved = carried_structure(pose, tube)
    assert isinstance(moved, Tube)
    assert moved.start == pytest.approx((1, 0.2, 0)) and moved.end is None and moved.up == pytest.approx((0, 1, 0))
    assert moved.start.tolerance == pytest.approx((0, 0.001, 0))
    assert carried_structure(pose, LinkStiffness(1, 2)) == LinkStiffness(1, 2)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (ROUND | {"section": "rond"}, 'section: got "rond", .*did you mean "round"'),
        (ROUND | {"outer": ("80 mm", "60 mm")}, "outer: got two sizes, expected the outer diameter"),
        (BOX | {"outer": "80 mm"}, "outer: got one size, expected two: width, height"),
        (ROUND | {"outer": None}, "outer: got nothing"),
        (ROUND | {"outer": math.nan}, "outer: got nan"),
        (ROUND | {"wall": "50 mm"}, "wall: got 50 mm, expected less than half the outer size, 100 mm"),
        (BOX | {"wall": "31 mm"}, "wall: got 31 mm, expected less than half the outer size, 60 mm"),
        (ROUND | {"wall": None}, "wall: got None"),
        (ROUND | {"wall": "4"}, 'wall: .*did you mean "4 mm"'),
        (ROUND | {"material": "alu"}, 'material: got "alu"'),
        (ROUND | {"material": "alumnium"}, 'material: got "alumnium", .*did you mean "aluminium"'),
        (ROUND | {"up": "z"}, 'up: got "z", expected no up'),
        (BOX | {"up": None}, "up: got nothing"),
        (BOX | {"up": "sideways"}, 'up: got "sideways"'),
        (BOX | {"up": "z", "start": (0, 0, 0), "end": (0, 0, 1)}, "up: got .*across the line"),
        (ROUND | {"start": (0, 0, 1), "end": (0, 0, 1)}, "end: got the same point as the start"),
        (ROUND | {"start": (0, 0)}, "start: "),
        (ROUND | {"end": (0, 0, math.inf)}, "end: "),
        (ROUND | {"weld_factor": 0.5}, "weld_factor: .*welded beside it"),
        (ROUND | {"welded": 1}, "welded: got 1, expected True or False"),
        (ROUND | {"safety": 0.5}, "safety: got 0.5, expected a safety of 1 or more"),
    ],
)
def test_a_tube_is_refused(arguments: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError, match=f"^Tube.{said}"):
        Tube(**arguments)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({}, "bending: got nothing, expected bending, torsion or both"),
        ({"bending": 0}, "bending: got 0"),
        ({"bending": "90 kN/m"}, "bending: .*a unit of torsional stiffness"),
        ({"torsion": math.nan}, "torsion: got nan"),
    ],
)
def test_stiffness_is_refused(arguments: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError, match=f"^LinkStiffness.{said}"):
        LinkStiffness(**arguments)


def test_on_an_arm() -> None:
    with pytest.raises(InputError, match=r"links\[0\].structure.end: got the same point as the start"):
        arm_of(Tube(**ROUND), length=0.0)  # type: ignore[arg-type]
    with pytest.raises(InputError, match=r"links\[0\].structure.up: .*across the line"):
        arm_of(Tube(**BOX))  # type: ignore[arg-type]
    base = Link("base", structure=LinkStiffness(1e5))
    with pytest.raises(InputError, match=r"base_link.structure.end"):
        arm_of(None, base_link=base)
    with pytest.raises(InputError, match=r"Link.structure: got 7, expected a Tube, a LinkStiffness, or None"):
        Link("a", structure=7)  # type: ignore[arg-type]
    with pytest.raises(InputError, match=r"Track.carriage.structure"):
        Track("x", 2, carriage=Link("carriage", structure=Tube(**ROUND)))  # type: ignore[arg-type]
    longer = replace(arm_of(Tube(**ROUND)), flange=(0, 0, 0.2))  # type: ignore[arg-type]
    assert longer.structure_line(1)[1][2] == 0.2


def test_reprs() -> None:
    assert repr(Tube(**BOX)) == "Tube 'tube': rectangular 80 x 60 x 4 mm, aluminium"  # type: ignore[arg-type]
    assert repr(LinkStiffness(9e4)) == "LinkStiffness 'link': bending 90 kN m/rad"
