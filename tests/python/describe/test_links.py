from __future__ import annotations

import numpy as np
import pytest

from armwright.describe.links import check_link, moved_point
from armwright.describe.pose import take_position
from armwright.errors import InputError


def test_names() -> None:
    check_link("k", "a", ("a", "b"))
    with pytest.raises(InputError, match=r'^k: got "turet", expected a link of the arm: base, turret .*mean "turret"'):
        check_link("k", "turet", ("base", "turret"))


def test_points() -> None:
    """By a quarter turn about z and a shift along x."""
    pose = np.array([[0, -1, 0, 1], [1, 0, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1.0]])
    point = take_position("k", ("0.2 m ± 1 mm", 0, 0))
    assert moved_point(pose, point) == pytest.approx((1, 0.2, 0))
    assert moved_point(pose, point).tolerance == pytest.approx((0, 0.001, 0))  # type: ignore[attr-defined]
    assert moved_point(np.eye(4), point) is point
