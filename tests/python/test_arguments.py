from __future__ import annotations

from typing import Any

import numpy as np
import pint
import pytest

from armwright import arguments
from armwright.errors import InputError

units = pint.get_application_registry()


@pytest.mark.parametrize("value", [0.1, "100 mm", "10 cm", units.Quantity(100, "mm"), np.float64(0.1), "0.1m"])
def test_lengths_in_any_unit(value: Any) -> None:
    assert arguments.length("spacing", value) == pytest.approx(0.1, rel=1e-15)
    assert arguments.length_or_none("step", value) == pytest.approx(0.1, rel=1e-15)


def test_length_bounds() -> None:
    assert arguments.length("margin", 0, zero=True) == 0
    assert arguments.length_or_none("step", None) is None
    with pytest.raises(InputError, match=r"^spacing: got 0 m, expected more than 0 m$"):
        arguments.length("spacing", 0)
    with pytest.raises(InputError, match=r"^margin: got -0.001 m, expected 0 m or more$"):
        arguments.length("margin", "-1 mm", zero=True)


@pytest.mark.parametrize("value", [np.nan, np.inf, "1 kg", "much", None, [1], True, "1,5 m", {}])
def test_no_lengths(value: Any) -> None:
    with pytest.raises(InputError, match=r"^spacing: got "):
        arguments.length("spacing", value)


def test_corners() -> None:
    assert arguments.corners("bounds", None) is None
    lower, upper = arguments.corners("bounds", (("-1 m", 0, 0), units.Quantity([100, 200, 300], "cm")))  # type: ignore[misc]
    assert lower.tolist() == [-1, 0, 0] and upper.tolist() == [1, 2, 3]
    for wrong in (5, "abc", (1, 2, 3), ((0, 0, 0),)):
        with pytest.raises(InputError, match=r"^bounds"):
            arguments.corners("bounds", wrong)
    with pytest.raises(InputError, match=r"^bounds: got \[0.0, 0.0, 0.0\] to \[1.0, -1.0, 1.0\], expected a lower"):
        arguments.corners("bounds", ((0, 0, 0), (1, -1, 1)))


@pytest.mark.parametrize("value", [[1, 2.5], (1, 2.5), np.array([1, 2.5], np.float32), np.float64(3), [], [[1], [2]]])
def test_numbers(value: Any) -> None:
    found = arguments.numbers("q", value)
    assert found.dtype == np.float64
    assert np.array_equal(found, np.asarray(value))


@pytest.mark.parametrize(
    "value",
    ["0.1", ["0.1", "0.2"], None, [None], True, [True], 1j, [1j], {}, b"12", [[1], [1, 2]], np.zeros(2, "M8[s]"),
     units.Quantity([10.0, 20.0], "deg"), np.ma.array([1.0, 2.0], mask=[True, False]), [10**400], object()],
)  # fmt: skip
def test_what_is_no_plain_number(value: Any) -> None:
    with pytest.raises(InputError) as raised:
        arguments.numbers("q", value)
    (problem,) = raised.value.problems
    assert (problem.key, problem.expected) == ("q", "numbers, SI: rad and m, without units")
    assert len(problem.value) <= 80 and "\n" not in problem.value


def test_finite() -> None:
    arguments.finite("q", np.zeros((0, 3)))
    arguments.finite("q", np.array([1e12, -1e12]))
    for bad, words in (
        (np.nan, "q: got nan at [1, 0], expected finite numbers"),
        (-np.inf, "q: got -inf at [1, 0], expected finite numbers"),
        (1e13, "q: got 10000000000000.0 at [1, 0], expected numbers up to 1e+12"),
    ):
        with pytest.raises(InputError) as raised:
            arguments.finite("q", np.array([[0.0, 1], [bad, 2]]))
        assert str(raised.value) == words


def test_a_name_told_again_is_refused_by_the_first_of_them() -> None:
    arguments.named_once("answers", ["a", "b"])
    with pytest.raises(InputError, match=r'^answers: got two named "b", expected a different name for each$'):
        arguments.named_once("answers", ["a", "b", "c", "b", "a"])
