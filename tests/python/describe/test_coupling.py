from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from armwright.describe.coupling import take_coupling
from armwright.errors import InputError
from cases.description_files import small_arm


def test_taken() -> None:
    take = take_coupling(("a", "b"))
    assert take("coupling", None) is None
    assert np.array_equal(take("coupling", [[1, 0], [-0.5, 1]]), [[1, 0], [-0.5, 1]])
    assert replace(small_arm(), coupling=[[0, 1], [1, 0]]).digest() != small_arm().digest()


@pytest.mark.parametrize(
    ("value", "said"),
    [
        ([[1, 2], [2, 4]], r"coupling: got a singular matrix \(its determinant is 0\)"),
        ([[1, 0], [0, 0]], r"coupling\[1\]: got a row of zeros"),
        ([[1, 0]], "2 rows of 2 numbers"),
        ([[1, 0], [1]], "2 rows of 2 numbers"),
        ([["1", "0"], ["0", "1"]], "2 rows of 2 numbers"),
        ([[True, False], [False, True]], "2 rows of 2 numbers"),
        ([[1, 0], [0, float("nan")]], "2 rows of 2 numbers"),
        ([[1, 0], [0, 10**400]], "2 rows of 2 numbers"),
        (3, "2 rows of 2 numbers"),
    ],
)
def test_refusals(value: Any, said: str) -> None:
    with pytest.raises(InputError, match=said):
        take_coupling(("a", "b"))("coupling", value)


def test_small_numbers_are_not_singular() -> None:
    assert take_coupling(("a", "b"))("coupling", [[1e-6, 0], [0, 1e-6]]) is not None
