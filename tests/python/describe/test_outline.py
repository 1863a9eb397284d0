from __future__ import annotations

import numpy as np
import pytest

from armwright.describe.outline import crosses_itself, holds, points_of

ELL = points_of([(0, 0), (2, 0), (2, 1), (1, 1), (1, 2), (0, 2)])


@pytest.mark.parametrize(
    ("point", "inside"),
    [((0.5, 1.5), True), ((1.5, 0.5), True), ((1.5, 1.5), False), ((2, 0.5), True), ((1, 1), True), ((-1e-3, 1), False),
     ((3, 1), False), ((-1, 0), False)],
)  # fmt: skip
def test_points_of_an_l(point: tuple[float, float], inside: bool) -> None:
    for turned in (ELL, ELL[::-1], np.roll(ELL, 2, axis=0)):
        assert holds(turned, np.array(point)) is inside


def test_shares_of_points_are_areas() -> None:
    """Of random points in a square of 2 by 2, three quarters are in the L."""
    points = np.random.default_rng(1).uniform(0, 2, (2000, 2))
    assert np.mean([holds(ELL, point) for point in points]) == pytest.approx(0.75, abs=0.03)


def test_crossing() -> None:
    assert not crosses_itself(ELL) and not crosses_itself(points_of([(0, 0), (1, 0), (0, 1)]))
    assert crosses_itself(points_of([(0, 0), (1, 1), (1, 0), (0, 1)]))
    assert crosses_itself(points_of([(0, 0), (1, 1), (2, 2)]))
    assert crosses_itself(points_of([(0, 0), (2, 0), (2, 2), (1, -1), (0, 2)]))
