"""What a track bears, as a whole: what is not told, slopes and walls, wrong input, executors and stores."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.errors import InputError
from armwright.results import summary
from cases.railed_cells import LONG, LOW, REACH, SWUNG, WEIGHT, WIDE, G, guide, rows, swinging


def test_what_is_not_told_is_named_and_left_out() -> None:
    made = rows([0.5, 0.0], [0.5, 0], kind="cycle", duty=1.0)
    nothing = swinging().track_loads(rows=made)
    assert nothing.sizes["block"] == 0 and "guide: not told" in nothing.attrs["missing"]
    assert "rack, belt or screw not told" in nothing.attrs["missing"]
    afloat = swinging(guide(height=None)).track_loads(rows=made)
    assert np.isnan(afloat.radial_greatest.values).all() and "height of the blocks" in afloat.attrs["missing"]
    bare = swinging(aw.Guide((-0.1, 0.1), (-0.2, 0.2), height=0.05)).track_loads(rows=made)
    for words in ("static rating not told", "dynamic rating and kind not told: life", "no beam told under its rails"):
        assert words in bare.attrs["missing"]
    assert np.isnan(bare.static_safety.values).all() and np.isnan(bare.life.values).all()
    assert np.isfinite(bare.radial_greatest.values).all()
    still = swinging(guide()).track_loads(rows=rows([0.5, 0.0]))
    assert np.isnan(still.life.values).all() and "no lasting duty" in still.attrs["missing"]
    for out in (nothing, afloat, bare, still):
        assert all(f"not looked at: {line}" in summary(out) for line in out.attrs["missing"].splitlines())


def test_a_slanted_track_and_rails_on_a_wall() -> None:
    """Up a slope of 30° the feed holds half the weight. With the rails' upright level, the weight is sideways."""
    out = swinging(guide(), mount=(0, 0, 0), pose=_turned(-np.pi / 6)).track_loads(rows=rows([0.5, 0.0]))
    assert out.feed_value.values[0] == pytest.approx(WEIGHT / 2)
    assert out.held_force.sel(held="rest").item() == pytest.approx(WEIGHT / 2)
    assert out.radial_greatest.sum().item() == pytest.approx(WEIGHT * np.cos(np.pi / 6))
    wall = swinging(guide(up=(0, 1, 0)), mount=(0, 0, 0)).track_loads(rows=rows([0.5, 0.0]))
    yaw = SWUNG * G * REACH / (2 * LONG)  # across is up × along, downwards
    np.testing.assert_allclose(wall.lateral_greatest.values, WEIGHT / 4 + yaw * np.array([-1, 1, -1, 1]))
    np.testing.assert_allclose(np.abs(wall.radial_greatest.values), WEIGHT * LOW / (2 * WIDE))


def _turned(angle: float) -> Any:
    pose = np.eye(4)
    pose[:3, :3] = [[np.cos(angle), 0, np.sin(angle)], [0, 1, 0], [-np.sin(angle), 0, np.cos(angle)]]
    return pose


def test_wrong_input_is_refused() -> None:
    cell = swinging(guide())
    made = rows([0.5, 0.0])
    wrong: tuple[tuple[dict[str, Any], str], ...] = (
        ({"rows": made, "reliability": 0.5}, "reliability"), ({"rows": made, "reliability": 1.0}, "reliability"),
        ({"rows": made, "reliability": "95"}, "reliability: got .95., expected a share"),
        ({"rows": made, "wanted_static": 0.5}, "wanted_static: got 0.5, expected a safety of 1 or more"),
        ({"rows": made, "wanted_static": 0.0}, "wanted_static"), ({"rows": "none"}, "rows"), ({"cycle": 3.0}, "cycle"),
    )  # fmt: skip
    for options, words in wrong:
        with pytest.raises(InputError, match=words):
            cell.track_loads(**options)
    fixed = aw.Cell(cell.description.arm)
    with pytest.raises(InputError, match="track"):
        fixed.track_loads()


def test_by_an_executor_and_from_a_store_it_is_the_same(tmp_path: Any) -> None:
    cell, made = swinging(guide()), rows([[0.5, 0.0], [0.6, 1.0]], kind="cycle", duty=1.0)
    alone = cell.track_loads(rows=made)
    with ThreadPoolExecutor(1) as pool:
        spread = cell.track_loads(rows=made, executor=pool, store=tmp_path / "kept")
    again = cell.track_loads(rows=made, store=tmp_path / "kept")
    assert alone.identical(spread) and alone.identical(again)
