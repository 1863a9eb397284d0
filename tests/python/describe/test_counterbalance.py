# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from armwright.describe import Counterbalance
from armwright.errors import InputError
from cases.description_files import small_arm

COIL = Counterbalance("coil", "a", (0, 0, 0.1), "b", rate="2 N/mm", free_length="200 mm", preload=30)
GAS = Counterbalance("gas", "a", (0, 0, 0.1), "b", force_extended=300, force_compressed=390, stroke=0.15,
                     extended_length=0.4)  # fmt: skip


def pull(item: Counterbalance, length: float) -> float:
    told = item.spring
    return float(told["pull"] + told["rate"] * (length - told["length"]))


def test_springs() -> None:
    """Hooke's law from the free length; a gas spring is straight between the forces of its ends."""
    assert pull(COIL, 0.25) == pytest.approx(30 + 2000 * 0.05)
    assert COIL.spring["pulls_only"]
    assert pull(GAS, 0.4) == pytest.approx(-300) and pull(GAS, 0.25) == pytest.approx(-390)
    assert (GAS.spring["shortest"], GAS.spring["longest"]) == (pytest.approx(0.25), pytest.approx(0.4))
    assert repr(COIL) == "Counterbalance 'counterbalance': coil, 2 N/mm, from 'a' to 'b'"
    assert replace(COIL, preload=None).assumptions == ("counterbalance: no preload: 0 N at its free length",)


def test_points_are_carried() -> None:
    frame = np.eye(4)
    frame[:3, :3] = [[0, -1, 0], [1, 0, 0], [0, 0, 1]]
    frame[:3, 3] = (1, 0, 0)
    moved = replace(COIL, point_a=(0.2, 0, 0)).carried({"a": frame})
    assert moved.point_a == pytest.approx((1, 0.2, 0)) and moved.point_b == pytest.approx((0, 0, 0))
    assert moved.spring == COIL.spring


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({"kind": "spring", "link_a": "a"}, 'Counterbalance.kind: got "spring"'),
        ({"kind": "mass", "link_a": "a"}, "Counterbalance.mass: got nothing"),
        ({"kind": "mass", "link_a": "a", "mass": 0}, "Counterbalance.mass: got 0"),
        ({"kind": "mass", "link_a": "a", "mass": 1, "link_b": "b"}, "link_b: got .* a mass is on one"),
        ({"kind": "mass", "link_a": "a", "mass": 1, "rate": 3}, "rate: got 3, expected no rate"),
        ({"kind": "coil", "link_a": "a", "link_b": "a", "rate": 3, "free_length": 1}, "another link than the first"),
        ({"kind": "coil", "link_a": "a", "rate": 3, "free_length": 1}, "link_b: got None"),
        ({"kind": "coil", "link_a": "a", "link_b": "b", "free_length": 1}, "rate: got nothing"),
        ({"kind": "coil", "link_a": "a", "link_b": "b", "rate": 3, "free_length": 1, "longest": 0.5}, "longest: got 500 mm"),
        ({"kind": "gas", "link_a": "a", "link_b": "b", "force_extended": 300, "force_compressed": 200, "stroke": 0.1,
          "extended_length": 0.3}, "force_compressed: got 200 N, expected at least the force extended, 300 N"),
        ({"kind": "gas", "link_a": "a", "link_b": "b", "force_extended": 300, "force_compressed": 400, "stroke": 0.3,
          "extended_length": 0.3}, "stroke: got 300 mm"),
    ],
)  # fmt: skip
def test_refusals(arguments: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError, match=said):
        Counterbalance(**arguments)


def test_on_an_arm() -> None:
    arm = replace(small_arm(), counterbalances=(COIL, Counterbalance("mass", "b", mass=4, name="weight")))
    assert arm.mass == small_arm().mass + 4
    with pytest.raises(InputError, match=r'counterbalances\[0\].link_b: got "bb", .*: base, a, b \(did you mean "b"'):
        replace(small_arm(), counterbalances=replace(COIL, link_b="bb"))
    with pytest.raises(InputError, match="2 named"):
        replace(small_arm(), counterbalances=(COIL, COIL))
