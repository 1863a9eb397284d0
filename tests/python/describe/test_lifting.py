# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from armwright.describe import CellDescription, LiftingEye
from armwright.errors import InputError
from cases.description_files import small_arm


def test_an_eye() -> None:
    eye = LiftingEye("a", ("0.1 m ± 1 mm", 0, 0), "200 kg")
    pose = np.array([[0, -1, 0, 1], [1, 0, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1.0]])
    moved = eye.carried({"a": pose})
    assert moved.point == pytest.approx((1, 0.1, 0)) and moved.point.tolerance == pytest.approx((0, 0.001, 0))
    assert eye.carried({"b": pose}) == eye
    assert repr(eye) == "LiftingEye 'eye': on 'a' at (100, 0, 0) mm, 200 kg"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({"link": ""}, "LiftingEye.link: "),
        ({"point": (0, 0)}, "LiftingEye.point: "),
        ({"point": (0, 0, math.nan)}, "LiftingEye.point: got nan|LiftingEye.point: "),
        ({"rated_mass": 0}, "LiftingEye.rated_mass: got 0"),
        ({"rated_mass": "2 kN"}, "LiftingEye.rated_mass: .*a unit of mass"),
    ],
)
def test_refusals(arguments: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError, match=f"^({said})"):
        LiftingEye(**({"link": "a", "point": (0, 0, 0.1)} | arguments))


def test_in_a_cell() -> None:
    eyes = (LiftingEye("base", (0, 0, 0.1)), LiftingEye("b", (0, 0, 0.1), name="second"))
    assert CellDescription(small_arm(), lifting=eyes).lifting == eyes
    with pytest.raises(InputError, match=r'lifting\[0\].link: got "bb", expected a link of the arm: base, a, b .*mean "b"'):
        CellDescription(small_arm(), lifting=LiftingEye("bb", (0, 0, 0)))  # type: ignore[arg-type]
    with pytest.raises(InputError, match="lifting: got 2 named"):
        CellDescription(small_arm(), lifting=(eyes[0], LiftingEye("b", (0, 0, 0))))
