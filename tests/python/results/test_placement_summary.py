"""The sentence says where, how many, how well, and what was promised and not kept."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import xarray as xr

import armwright as aw
from armwright.results import summary
from cases.described import positioner

POINTS = [
    aw.Target.pointing((0.6, 0.2, 0.1), "down", "kiln"),
    aw.Target.pointing((0.4, 0.5, 0.3), "down", "shelf"),
    aw.Target.pointing((5.0, 0, 0), "down", "moon"),
]


@lru_cache
def result(aims: tuple[str, ...] = ("limit_margin",)) -> xr.Dataset:
    cell = aw.Cell(positioner(), targets=POINTS, mount=(2.5, 0, 0))
    return cell.placement(x=(-0.5, 0.5), y=(-0.5, 0.5), yaw=0.3, aims=aims, samples=40)


def test_the_best_place_in_one_sentence() -> None:
    words = summary(result())
    x, y, yaw = (float(result()[f"place_{name}"][0]) for name in ("x", "y", "yaw"))
    at = f"Best base at ({x:.3f}, {y:.3f}) m, 0.000 m high, turned {np.degrees(yaw):.3g}°, on the floor"
    assert f"{at}: 2 of 3 points, worst limit".replace("-0.000", "0.000") in words
    assert f"margin {float(result().worst[0, 0]):.3g} ({result().worst_at.values[0, 0]}), against 0 of 3" in words
    assert "moon: out of reach by" in words and "kiln:" not in words
    assert "promised" not in words
    assert f"{result().sizes['candidate']} places tried" in words


def test_what_was_promised_and_not_kept_is_told() -> None:
    broken = result().copy(deep=True)
    broken["promised_worst"].values[0, 0] += 0.1
    told, found = float(broken.promised_worst[0, 0]), float(broken.worst[0, 0])
    assert f"the search had promised limit margin {told:.3g}, the check found {found:.3g}" in summary(broken)
    broken["promised_count"].values[0] = 3
    assert "the search had promised 3 points, the check found 2" in summary(broken)


def test_several_aims() -> None:
    words = summary(result(("limit_margin", "payload")))
    assert "Balanced base at" in words and "worst payload spare" in words and " kg (" in words
    assert "that no other beats in all of: limit margin, payload spare" in words
