"""A result through arrays of one item and back."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
import xarray as xr

from armwright.results.packed import packed, unpacked
from armwright.studies.cutting import stacked
from cases import sample_results
from cases.in_pieces import assert_same_bits

SAMPLES: list[Callable[[], xr.Dataset]] = [sample_results.reach_map, sample_results.check_targets]


@pytest.mark.parametrize("sample", SAMPLES)
def test_nothing_is_lost_on_the_way(sample: Callable[[], xr.Dataset]) -> None:
    made = sample()
    back = unpacked(packed(made), 0)
    assert back.identical(made)
    assert_same_bits(back, made)
    assert list(back.variables) == list(made.variables) and list(back.coords) == list(made.coords)


def test_results_of_different_shape_come_back_as_they_were() -> None:
    """One is filled up to the other's shape on the way."""
    wide, narrow = sample_results.reach_map(0.1), sample_results.reach_map(0.3)
    told = stacked([packed(narrow), packed(wide)])
    assert len(told["reach_index"]) == 2
    assert_same_bits(unpacked(told, 0), narrow)
    assert_same_bits(unpacked(told, 1), wide)


def test_not_a_number_and_infinity_survive() -> None:
    made = sample_results.reach_map(0.3)
    made.attrs["spacing"] = float("inf")
    made["clearance"].values[0, 0, 0] = -np.inf
    assert_same_bits(unpacked(packed(made), 0), made)
