from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import armwright as aw
from cases.described import at, positioner, track_cell

PI = math.pi


def curves(points: Any) -> list[Any]:
    array = np.asarray(points)
    breaks = np.flatnonzero(np.isnan(array[:, 0]))
    return [part[~np.isnan(part[:, 0])] for part in np.split(array, breaks)]


def area(curve: Any) -> float:
    """By the shoelace formula, closed by a straight line."""
    x, y = curve[:, 0], curve[:, 1]
    return 0.5 * abs(float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)))


def test_an_annulus() -> None:
    """A disc of 0.4 m carried round at 1.0 m: a disc in section, a ring from 0.6 to 1.4 m in plan."""
    result = aw.Cell(positioner(1.0, 0.2, 0.2)).outlines(spacing="40 mm", directions=6)
    (section,) = curves(result["section"])
    np.testing.assert_allclose(np.hypot(section[:, 0] - 1, section[:, 1]), 0.4, atol=0.001)
    assert area(section) == pytest.approx(PI * 0.16, rel=0.01)
    areas = sorted(area(curve) for curve in curves(result["plan"]))
    assert areas == pytest.approx([PI * 0.36, PI * 1.96], rel=0.01)
    for name in ("section", "plan"):  # the wrist centre is the tool point here
        np.testing.assert_allclose(result[f"wrist_{name}"], result[name], atol=1e-9)


def test_tool_point_and_wrist_centre() -> None:
    """A tool of 200 mm along the last axis: the tool point goes 200 mm farther."""
    cell = aw.Cell(positioner(), tool=aw.Tool(("200 mm", 0, 0)))
    result = cell.outlines(spacing="50 mm", directions=20)
    reach = {name: float(np.nanmax(np.hypot(*result[name].values.T))) for name in ("section", "wrist_section")}
    assert reach["section"] == pytest.approx(1.3, abs=0.002)
    assert reach["wrist_section"] == pytest.approx(1.1, abs=0.002)
    disc = max(area(curve) for curve in curves(result["wrist_plan"]))
    assert disc == pytest.approx(PI * 1.21, rel=0.01)


def test_a_base_off_the_origin_and_a_track() -> None:
    cell = aw.Cell(positioner(), aw.Track("y", 1.0, ("100 mm", 0, 0)), mount=(0, 0, "300 mm"))
    result = cell.outlines(spacing="55 mm", directions=4)
    plan = max(curves(result["plan"]), key=area)
    assert area(plan) == pytest.approx(PI * 1.21 + 2.2, rel=0.01)
    assert np.mean([plan[:, 0].min(), plan[:, 0].max()]) == pytest.approx(0.1, abs=0.01)
    assert [plan[:, 1].min(), plan[:, 1].max()] == pytest.approx([-1.1, 2.1], abs=0.01)
    section = np.concatenate(curves(result["section"]))
    assert section[:, 1].max() == pytest.approx(1.4, abs=0.01)


def test_threads_units_and_file(tmp_path: Path) -> None:
    cell = track_cell(fixtures=())
    result = cell.outlines(spacing="150 mm", directions=10)
    for threads in (1, 2, 3):
        assert cell.outlines(spacing=0.15, directions=10, threads=threads).identical(result)
    assert result["joint_lower"].values == pytest.approx(cell.limits.lower)
    assert result["joint_unit"].values.tolist() == ["m"] + ["rad"] * 6
    assert result["section"].attrs["units"] == "m" and result.attrs["inputs_digest"] == cell.digest()
    assert result.attrs["spacing"] == 0.15
    result.armwright.to_netcdf(tmp_path / "outlines.nc")
    assert aw.open_result(tmp_path / "outlines.nc").identical(result)
    # Fixtures do not count.
    with_post = track_cell().outlines(spacing="150 mm", directions=10)
    np.testing.assert_array_equal(with_post["plan"], result["plan"])


def test_hung_from_a_ceiling() -> None:
    """Upside down: the same ring in plan. Heights of the section are told along axis 1."""
    hung = aw.Cell(positioner(1.0, 0.2, 0.2), mount=at((0.5, 0, 2.0), np.diag([1.0, -1, -1])))
    result = hung.outlines(spacing="80 mm", directions=4)
    plan = sorted((area(curve) for curve in curves(result["plan"])), reverse=True)
    assert plan == pytest.approx([PI * 1.96, PI * 0.36], rel=0.03)
    (section,) = curves(result["section"])
    np.testing.assert_allclose(np.hypot(section[:, 0] - 1, np.abs(section[:, 1]) - 2), 0.4, atol=0.003)
