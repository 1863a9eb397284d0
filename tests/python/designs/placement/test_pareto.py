from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from armwright.designs.placement.pareto import balanced, not_dominated, scaled, spread_out

tables = st.lists(st.lists(st.integers(0, 4), min_size=3, max_size=3), min_size=1, max_size=25)


@given(tables)
def test_what_stays_is_what_no_other_beats(rows: list[list[int]]) -> None:
    """Pair by pair."""
    values = np.array(rows, dtype=float)
    kept = not_dominated(values)
    for i, row in enumerate(values):
        beaten = any((other >= row).all() and (other > row).any() for other in values)
        if kept[i]:
            assert not beaten
        else:
            assert beaten or any((values[j] == row).all() for j in np.flatnonzero(kept))
    assert len({tuple(row) for row in values[kept]}) == kept.sum()


def test_not_known_is_worse_than_anything() -> None:
    values = np.array([[1.0, np.nan], [1.0, -np.inf], [1.0, -5.0], [0.5, np.inf]])
    assert not_dominated(values).tolist() == [False, False, True, True]
    assert scaled(values)[:, 1].tolist() == [0, 0, 1, 1]


def test_the_best_of_each_first_then_the_farthest() -> None:
    at = np.linspace(0, np.pi / 2, 21)
    values = np.stack([np.cos(at), np.sin(at)], axis=1)
    assert list(spread_out(values, 3)) == [0, 20, 10]
    assert balanced(values) == 10
    assert len(spread_out(values, 50)) == 21


def test_an_aim_that_hardly_varies_does_not_decide() -> None:
    values = np.array([[1.0, 0.0, 0.500000], [0.5, 0.6, 0.500001], [0.0, 1.0, 0.500002]])
    assert balanced(values) == 1
