"""The worst of many rows."""

from __future__ import annotations

import numpy as np

from armwright.studies.base_checks import Found, greatest, ratio


def test_the_worst_row_and_part_are_named() -> None:
    found = Found()
    found.check("grip", np.array([[3.0, 2.0], [1.5, np.inf]]), 1.2, ["a", "b"], "a rule")
    assert found.checks[0] == ("grip", 1.5, 1.2, "a", 1, "a rule")
    found.check("grip", np.array([[3.0, 2.0], [1.5, np.nan]]), 1.2, ["a", "b"], "a rule")
    assert found.checks[1].part == "b" and np.isnan(found.checks[1].safety), "what is not known is not safe"


def test_greatest_passes_nan_over_and_ratio_knows_nothing_to_bear() -> None:
    most, at = greatest(np.array([[1.0, np.nan], [np.nan, np.nan], [3.0, np.nan]]))
    assert most[0] == 3 and at[0] == 2 and np.isnan(most[1])
    np.testing.assert_array_equal(ratio(6.0, [2.0, 0.0, np.nan]), [3.0, np.inf, np.nan])
