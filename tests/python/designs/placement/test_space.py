"""Bounds in every form that people have; what makes no sense is refused by name."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.designs.placement.space import Space, take_space
from armwright.errors import InputError
from cases.described import positioner, track_cell

NONE = dict.fromkeys(("x", "y", "z", "yaw", "turn", "track"))
CELL = aw.Cell(positioner(), mount=(0.1, 0.2, 0.3)).description


def space(attitudes: Any = None, cell: Any = CELL, **told: Any) -> Space:
    return take_space(cell, NONE | told, attitudes)


def test_what_is_not_told_stays() -> None:
    taken = space(x=(-1, "50 cm"), yaw="any", z="0.4 m")
    assert taken.lower[:4] == pytest.approx([-1, 0.2, 0.4, -np.pi])
    assert taken.upper[:4] == pytest.approx([0.5, 0.2, 0.4, np.pi])
    assert list(taken.free) == [0, 3] and taken.attitudes == (0,) and not taken.parked


@pytest.mark.parametrize(
    "yaw", [("-90 deg", "90 deg"), "-90, 90 deg", (-np.pi / 2, np.pi / 2), np.array([-1, 1]) * np.pi / 2]
)
def test_angles_in_any_form(yaw: Any) -> None:
    taken = space(yaw=yaw)
    assert (taken.lower[3], taken.upper[3]) == pytest.approx((-np.pi / 2, np.pi / 2))


def test_attitudes() -> None:
    assert space(["ceiling", "wall"], turn="any").attitudes == (2, 1)
    assert space(("as it stands", "ceiling")).attitudes == (0, 2)  # it stands on the floor


def test_places_come_back_within_the_bounds_by_whole_turns() -> None:
    taken = space(x=(-1, 1), yaw="any")
    back = taken.within(np.array([[5.0, 0.2, 0.3, 3.5, 0, np.nan]]))[0]
    assert back[:4] == pytest.approx([1.0, 0.2, 0.3, 3.5 - 2 * np.pi])
    assert taken.has(np.array([0.5, 0.2, 0.3, 1.0, 0, np.nan]), 0)
    assert not taken.has(np.array([0.5, 0.25, 0.3, 1.0, 0, np.nan]), 0)
    assert not taken.has(np.array([0.5, 0.2, 0.3, 1.0, 0, np.nan]), 1)


def test_parked() -> None:
    taken = space(cell=track_cell().description, track=(0.2, "80 cm"))
    assert taken.parked and list(taken.free) == [5]


@pytest.mark.parametrize(
    ("told", "attitudes", "key", "words"),
    [
        ({}, None, "placement", "nothing to be chosen"),
        ({"x": 0.5}, "floor", "placement", "bounds for one of"),
        ({"x": (1, -1)}, None, "x", "a lower bound, then an upper one"),
        ({"x": (1, 2, 3)}, None, "x", "2 values"),
        ({"x": "wide"}, None, "x", "a length"),
        ({"x": (0, np.nan)}, None, "x", "finite"),
        ({"yaw": (0, 7)}, None, "yaw", "a whole turn"),
        ({"yaw": "1 m"}, None, "yaw", "a unit of angle"),
        ({"yaw": "anny"}, None, "yaw", "or any"),
        ({"x": (0, 1)}, "roof", "attitudes", "floor"),
        ({"x": (0, 1)}, [], "attitudes", "none"),
        ({"x": (0, 1), "turn": "any"}, "floor", "turn", "yaw turns the base"),
        ({"track": (0, 1)}, None, "track", "the cell has no track"),
    ],
)  # fmt: skip
def test_refused(told: Any, attitudes: Any, key: str, words: str) -> None:
    with pytest.raises(InputError) as refused:
        space(attitudes, **told)
    assert refused.value.problems[0].key == key
    assert words in str(refused.value)


@pytest.mark.parametrize(
    "told", [{"track": (0, 2)}, {"track": (0, 1), "x": (0, 1)}, {"track": (0, 1), "attitudes": "wall"}]
)
def test_parking_refused(told: dict[str, Any]) -> None:
    attitudes = told.pop("attitudes", None)
    with pytest.raises(InputError, match="track"):
        space(attitudes, cell=track_cell().description, **told)
