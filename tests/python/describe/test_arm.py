from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from armwright.describe import ArmDescription, Joint, Link
from armwright.errors import InputError
from cases.description_files import small_arm


def test_joint() -> None:
    joint = Joint("axis 1", range=("-120 deg", "90 deg"), torque_continuous="1.5 kN*m", torque_peak=2000)
    assert (joint.lower, joint.upper) == pytest.approx((-2 * math.pi / 3, math.pi / 2))
    assert repr(joint) == "Joint 'axis 1': revolute, -120 to 90 deg, holds 1500 N m, peak 2000 N m"
    assert repr(Joint("a")) == "Joint 'a': revolute, turns without end, holds no limit"
    assert Joint("a", torque_continuous=5).torque_peak == 5
    slide = Joint("z", "prismatic", range=("0 mm", "300 mm"), torque_continuous="10 kgf")
    assert slide.torque_continuous == pytest.approx(98.0665)
    assert repr(slide) == "Joint 'z': prismatic, 0 to 300 mm, holds 98.0665 N, peak 98.0665 N"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({"range": (1, -1)}, r"^Joint.range: got 57.2958 to -57.2958 deg, expected a lower limit below the upper one$"),
        ({"range": (1, 1)}, "expected a lower limit below the upper one"),
        ({"range": (0, math.inf)}, "Joint.range: .* a finite number"),
        ({"range": 3}, "Joint.range: got 3, expected 2 values"),
        ({"kind": "prismatic"}, "Joint.range: got none, expected two lengths"),
        ({"kind": "ball"}, 'Joint.kind: got "ball", expected revolute or prismatic'),
        (
            {"torque_continuous": 5, "torque_peak": 4},
            "Joint.torque_peak: got 4 N m, expected at least the continuous one, 5 N m",
        ),
        ({"torque_continuous": -5}, "Joint.torque_continuous: got -5"),
        ({"torque_continuous": "24 kg*cm"}, r"did you mean kgf\*cm"),
        ({"axis": (0, 0, 0)}, "Joint.axis"),
        ({"placement": np.zeros((4, 4))}, "Joint.placement"),
    ],
)
def test_joints_refused(arguments: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError, match=said):
        Joint("axis 1", **arguments)


def test_links() -> None:
    assert repr(Link("arm", "6.2 kg")) == "Link 'arm': 6.2 kg, 0 shapes"
    assert Link("none").mass == 0
    for arguments in ({"mass": -1}, {"mass": "nan kg"}, {"inertia": (1, 1, 1)}, {"mass": 1, "centre": (0, 0)}):
        with pytest.raises(InputError, match=r"^Link\.(mass|inertia|centre): "):
            Link("bad", **arguments)  # type: ignore[arg-type]


def test_arm() -> None:
    arm = small_arm()
    assert repr(arm) == "ArmDescription 'small': 2 joints, 3 kg"
    assert arm.joint_names == ("axis 1", "axis 2")


@pytest.mark.parametrize(
    ("joints", "links", "said"),
    [
        ([], [], "ArmDescription.joints: got 0 joints, expected 1 to 12"),
        ([Joint(str(i)) for i in range(13)], [Link(str(i)) for i in range(13)], "13 joints, expected 1 to 12"),
        ([Joint("a")], [], "0 links, expected one for each of 1 joints"),
        ([Joint("a"), Joint("a")], [Link("a"), Link("b")], '2 named "a", expected a different name for each'),
        ([Joint("a"), Joint("b")], [Link("a"), Link("a")], 'links: got 2 named "a"'),
        ([Joint("a")], [5], r"links\[0\]: got 5, expected a Link"),
        ("axis", [Link()], 'joints: got "axis", expected a list of Joint'),
    ],
)
def test_arms_refused(joints: Any, links: Any, said: str) -> None:
    with pytest.raises(InputError, match=said):
        ArmDescription(joints, links)
