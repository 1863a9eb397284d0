"""The search on functions whose greatest value is known."""

from __future__ import annotations

import numpy as np
import pytest

from armwright.designs.placement import search
from armwright.designs.placement.scoring import Scores
from armwright.designs.placement.space import Space
from armwright.errors import InputError

N = np.nan


def space(lower: list[float], upper: list[float], attitudes: tuple[int, ...] = (0,)) -> Space:
    return Space(np.array(lower), np.array(upper), attitudes)


PLAN = space([-1, -1, 0, -np.pi, 0, N], [1, 2, 0, np.pi, 0, N])


def scored(numbers: np.ndarray, attitude: np.ndarray) -> Scores:
    """A ridge: the less of two slopes that meet along a line across the axes; best at (0.3, -0.2), facing 0.5; beyond
    x = 0.8 nothing is served."""
    x, y, yaw = numbers[:, 0] - 0.3, numbers[:, 1] + 0.2, np.cos(numbers[:, 3] - 0.5)
    worst = np.minimum(1 - 4 * np.abs(x - y) - 0.1 * np.abs(x + y), 1 - 0.2 * (1 - yaw))
    served = np.where(numbers[:, 0] < 0.8, 3, 0)
    return Scores(
        numbers, attitude, served, 3.0 - served, np.where(served > 0, worst, np.nan)[:, None, None] * np.ones((3, 3))
    )


def test_the_sample_covers_all_and_depends_on_the_seed_alone() -> None:
    a, b, c = (search.spread(PLAN, 3000, None, seed) for seed in (1, 1, 2))
    assert (a.numbers[:, :5] == b.numbers[:, :5]).all() and not (a.numbers[:, 3] == c.numbers[:, 3]).all()
    assert 2000 < len(a.numbers) < 6000
    plan = a.numbers.reshape(len(a.y), len(a.x), 8, 6)
    assert plan[0, :, 0, 0] == pytest.approx(a.x) and plan[:, 0, 0, 1] == pytest.approx(a.y)
    assert (a.x[0], a.x[-1], a.y[0], a.y[-1]) == pytest.approx((-1, 1, -1, 2))
    assert np.ptp(a.numbers[:, 3]) > 5 and (a.numbers[:, 2] == 0).all()


def test_a_spacing_is_kept_and_one_too_fine_refused() -> None:
    sample = search.spread(PLAN, 10, 0.25, 0)
    assert np.diff(sample.x) == pytest.approx(0.25) and len(sample.y) == 13
    with pytest.raises(InputError, match="places"):
        search.spread(PLAN, 10, 1e-4, 0)


def test_other_spaces_are_sampled_too() -> None:
    along = search.spread(space([0, 0, 0, 0, 0, 0.2], [0, 0, 0, 0, 0, 1.4]), 100, None, 0)
    assert np.ptp(along.numbers[:, 5]) == pytest.approx(1.2) and len(along.x) == 0 and len(along.numbers) > 90
    turned = search.spread(space([0, 0, 0, -1, 0, N], [0, 0, 1, 1, 0, N], (0, 2)), 500, None, 0)
    assert set(turned.attitude) == {0, 2} and np.ptp(turned.numbers[:, 2]) > 0.9
    fixed = search.spread(space([0, 0, 0, 0, 0, N], [0, 0, 0, 0, 0, N], (0, 1, 2)), 500, None, 0)
    assert fixed.attitude.tolist() == [0, 1, 2]


@pytest.mark.parametrize("seed", range(4))
def test_steps_follow_a_ridge_to_its_top(seed: int) -> None:
    sample = search.spread(PLAN, 300, None, seed)
    all_of_them = scored(sample.numbers, sample.attitude)
    key = search.by_measure(0)
    starts = all_of_them.rows(search.distinct(all_of_them, search.order_of(key(all_of_them)), sample.steps, 4))
    seen = search.climb(scored, starts, PLAN, sample.steps, key, seed)
    best = search.order_of(key(seen))[0]
    assert seen.worst[best, 0, 0] > 0.999
    assert seen.numbers[best][:2] == pytest.approx([0.3, -0.2], abs=5e-3)


def test_more_served_comes_before_a_better_worst() -> None:
    scores = Scores(np.zeros((3, 6)), np.zeros(3, np.int64), np.array([1, 2, 2]), np.zeros(3),
                    np.array([9.0, 1.0, N])[:, None, None] * np.ones((3, 3)))  # fmt: skip
    assert search.order_of(search.by_measure(1)(scores)).tolist() == [1, 2, 0]


def test_neighbours_and_places_where_it_cannot_stand_are_left_out() -> None:
    numbers = np.zeros((4, 6))
    numbers[:, 5] = N
    numbers[:, 0] = [0, 0.05, 0.5, 0.9]
    scores = Scores(numbers, np.zeros(4, np.int64), np.array([3, 3, 3, -1]), np.zeros(4), np.zeros((4, 3, 3)))
    steps = np.array([0.1, 0, 0, 0, 0, 0])
    assert search.distinct(scores, np.arange(4), steps, 4).tolist() == [0, 2]
