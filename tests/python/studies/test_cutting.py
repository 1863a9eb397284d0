from __future__ import annotations

from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from armwright.studies import cutting
from armwright.studies.cutting import Cutter, Whole, items_of


@given(st.integers(1, 3000), st.data())
def test_pieces_hold_every_item_once(count: int, data: Any) -> None:
    cuts = sorted({0, count, *data.draw(st.lists(st.integers(0, count), max_size=5))})
    items = [item for start, stop in pairwise(cuts) for item in items_of(start, stop, count)]
    assert sorted(items) == list(range(count))


def test_a_piece_is_a_fair_sample() -> None:
    """Any tenth of 50 million items has its share, within 1 %, in each tenth of all."""
    count = 50_000_000
    for start in (0, 123_456, 44_999_999):
        items = items_of(start, start + 100_000, count)
        assert items.min() >= 0 and items.max() < count
        shares = np.histogram(items, bins=10, range=(0, count))[0] / 10_000
        assert np.abs(shares - 1).max() < 0.01


@given(st.lists(st.integers(0, 400), max_size=8), st.integers(1, 9), st.lists(st.floats(1e-9, 1e3), min_size=1))
def test_what_is_left_is_cut_whatever_the_times(ends: list[int], workers: int, times: list[float]) -> None:
    edges = sorted(ends)
    gaps = list(zip(edges[::2], edges[1::2], strict=False))
    cutter, turn = Cutter(gaps), 0
    cut: list[int] = []
    while cutter.gaps:
        start, stop = cutter.next(workers)
        assert start < stop
        cut += range(start, stop)
        cutter.learn(stop - start, times[turn % len(times)], {"a": np.zeros(stop - start)})
        turn += 1
    assert sorted(cut) == [item for start, stop in gaps for item in range(start, stop)]
    assert cutter.left == 0


def simulated(count: int, seconds_each: float, workers: int, bytes_each: int = 8) -> list[int]:
    cutter, sizes = Cutter([(0, count)]), []
    while cutter.gaps:
        start, stop = cutter.next(workers)
        sizes.append(stop - start)
        cutter.learn(stop - start, seconds_each * (stop - start), {"a": np.zeros((stop - start, bytes_each), np.int8)})
    return sizes


def test_pieces_take_about_a_second_and_less_at_the_end() -> None:
    sizes = simulated(10_000_000, 1e-5, 2)
    assert sizes[:4] == [1, 16, 256, 4096]
    assert set(sizes[6:90]) == {100_000}
    assert sizes[-2] < 25_000 and len(sizes) < 130
    assert simulated(7, 30.0, 2) == [1] * 7  # an item that takes longer is a piece of its own


def test_answers_of_a_piece_are_bounded() -> None:
    assert max(simulated(1_000_000, 1e-9, 1, 1000)) == cutting._most_bytes // 1000


def test_answers_are_put_where_they_belong_and_words_grow() -> None:
    whole = Whole(5)
    whole.put(3, 5, {"word": np.array(["a", "bbb"])})
    whole.put(0, 3, {"word": np.array(["cc", "d", "eeeeee"])})
    order = items_of(0, 5, 5)
    assert [whole.arrays["word"][item] for item in order] == ["cc", "d", "eeeeee", "a", "bbb"]
    assert whole.done == 5


def test_what_is_of_different_length_is_filled_up() -> None:
    whole = Whole(3)
    whole.put(0, 1, {"a": np.array([[[1.0, 2.0]]])})
    whole.put(1, 2, {"a": np.array([[[3.0], [4.0], [5.0]]])})
    whole.put(2, 3, {"a": np.empty((1, 0, 0))})
    first, second, third = (whole.arrays["a"][item] for item in items_of(0, 3, 3))
    np.testing.assert_array_equal(first, [[1, 2], [np.nan, np.nan], [np.nan, np.nan]])
    np.testing.assert_array_equal(second, [[3, np.nan], [4, np.nan], [5, np.nan]])
    assert third.shape == (3, 2) and np.isnan(third).all()


@pytest.mark.parametrize("count", [1, 2, 3, 1_000_003])
def test_few_items_and_many(count: int) -> None:
    assert items_of(0, min(count, 5), count).tolist()[0] == 0
    assert len(set(items_of(0, min(count, 1000), count).tolist())) == min(count, 1000)


def test_items_of_different_length_are_put_together() -> None:
    """What is short is filled up, as Whole does it."""
    items = [
        {"value": np.array([[1.0, 2.0]]), "word": np.array(["ab"])},
        {"value": np.array([[3.0, 4.0, 5.0]]), "word": np.array(["cdefg"])},
    ]
    told = cutting.stacked(items)
    np.testing.assert_array_equal(told["value"], [[1, 2, np.nan], [3, 4, 5]])
    assert told["word"].tolist() == ["ab", "cdefg"]
