# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from armwright.describe.several import is_several, list_of, no_bare_numbers, one_or_two, points_in_plane, two
from armwright.describe.units import FORCE, LENGTH
from armwright.describe.wrong import Wrong
from armwright.errors import InputError


def test_one_or_two() -> None:
    read = one_or_two(LENGTH)
    assert read("k", "80 mm") == 0.08 and read("k", "80, 60 mm") == (0.08, 0.06) and read("k", (1, "20 mm")) == (1, 0.02)
    assert read("k", None) is None and read("k", "80 mm ± 1 mm").tolerance == pytest.approx(0.001)  # type: ignore[union-attr]
    assert two(read("k", 3)) == (3, 3) and two(read("k", (1, 2))) == (1, 2) and two(None) is None


def test_a_decimal_comma_makes_no_two_numbers() -> None:
    assert not is_several("1,5 kN") and is_several("1, 5 kN") and is_several([1]) and not is_several(1.5)
    assert is_several(np.ones(2)) and not is_several(np.array(1.5)) and not is_several(None)
    with pytest.raises(InputError, match=r'^k: .*no comma .*did you mean "1.5 kN"'):
        one_or_two(FORCE)("k", "1,5 kN")


def test_lists() -> None:
    read = list_of(LENGTH, 3)
    assert read("k", "0, 50 mm") == (0, 0.05) and read("k", 2) == (2,) and read("k", np.array([1, 2.5])) == (1, 2.5)
    for wrong in ([], [1, 2, 3, 4], ["a"], [math.nan], {"a": 1}, None, True, [[1]]):
        with pytest.raises(InputError, match=r"^k"):
            read("k", wrong)


def test_points() -> None:
    read = points_in_plane(2)
    assert read("k", [(1, 2), "3, 4 mm"]) == ((1, 2), (0.003, 0.004)) and read("k", None) is None
    assert read("k", np.eye(2)) == ((1, 0), (0, 1))
    bad: list[Any] = [[], [(1, 2)], [(1, 2), (1, 2)], [(1, 2), (1,)], "1, 2", 7, [(1, 2), (1, math.inf)], [1, 2]]
    for wrong in bad:
        with pytest.raises(InputError, match=r"^k"):
            read("k", wrong)


def test_units_are_wanted_in_files() -> None:
    no_bare_numbers(LENGTH, [["1 mm", "2 mm"], "3 mm"])
    for wrong in (1, ["1 mm", 2.0], [["1 mm", True]], None):
        with pytest.raises(Wrong):
            no_bare_numbers(LENGTH, wrong)
