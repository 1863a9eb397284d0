"""What every part bears: each figure is that of the part's own study over rows of that kind; what is not told has a
line too, and is never safe for that."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import xarray as xr

import armwright as aw
from armwright.errors import InputError
from armwright.results.part_summary import least_safeties
from armwright.results.part_variables import GROUPS
from armwright.studies.part_figures import LEAST_STATIC
from cases.borne_cells import ball_on_axis, rows_by_hand, slewing
from cases.driven_cells import swing
from cases.laden_cells import laden_cell, sway

HOUR = 3600.0


@pytest.fixture(scope="module")
def cell() -> aw.Cell:
    return laden_cell()


@pytest.fixture(scope="module")
def motion(cell: aw.Cell) -> aw.TimedMotion:
    return sway(cell)


@pytest.fixture(scope="module")
def found(cell: aw.Cell, motion: aw.TimedMotion) -> xr.Dataset:
    return cell.part_loads(motion, wanted_life="20000 h")


def figure(found: xr.Dataset, part: str, quantity: str) -> xr.Dataset:
    at = np.flatnonzero((found["part"].values == part) & (found["quantity"].values == quantity))
    assert len(at) == 1, (part, quantity)
    return found.isel(figure=int(at[0]))


@pytest.mark.parametrize("kind", ["rest", "cycle", "stop"])
def test_each_figure_is_that_of_its_own_study(
    cell: aw.Cell, motion: aw.TimedMotion, found: xr.Dataset, kind: str
) -> None:
    rows = cell.load_rows(motion).only(kind)
    bearings, base, track = cell.bearings(rows=rows), cell.base_loads(rows=rows), cell.track_loads(rows=rows)
    links = cell.link_stress(rows=rows)

    def equal(part: str, quantity: str, name: str, expected: Any) -> None:
        told = figure(found, part, quantity).sel(situation=kind)[name].item()
        expected = expected.item() if hasattr(expected, "item") else expected
        assert told == expected or np.isnan([told, expected]).all()

    for name in bearings["bearing"].values:
        row = bearings.sel(bearing=name)
        equal(name, "static equivalent load", "value", row["static_load"])
        equal(name, "static equivalent load", "safety", row["safety"])
        equal(name, "static equivalent load", "case", row["worst_case"])
        equal(name, "radial load", "value", row["worst_radial"])
    for name in base["bolt"].values:
        equal(name, "tension", "value", base.sel(bolt=name)["bolt_pull"])
        equal(name, "safety against proof stress", "safety", base.sel(bolt=name)["proof_safety"])
    slip = base.sel(check="joint: slip")
    equal("joint: slip", "safety", "safety", slip["safety"])
    for name in track["block"].values:
        row = track.sel(block=name)
        equal(name, "static equivalent load", "safety", row["static_safety"])
        equal(name, "off the rail", "value", max(0.0, -row["radial_least"].item()))
        equal(name, "across the rail", "value", abs(row["lateral_greatest"].item()))
    bends = abs(track["rail_deflection"].sel(rail=0, support=track.attrs["rail_support"]).item())
    equal("rail 1", "bending", "value", bends)
    equal("rail 1", "bending", "safety", 1e-4 / bends)
    equal("feed", "force along the track", "value", track["feed_value"].values[0])
    stress = links.isel(tube=0).sel(end="near")
    equal("link 1: tube", "stress, near end", "value", stress["von_mises"])
    equal("link 1: tube", "stress, near end", "safety", stress["safety"])
    between = links.isel(tube=0).sel(end="between")
    equal("link 1: tube", "stress, between the ends", "safety", between["safety"])


def test_lives_and_drives_belong_to_the_cycle(cell: aw.Cell, motion: aw.TimedMotion, found: xr.Dataset) -> None:
    name = "joint 1: bearing"
    life = figure(found, name, "life")
    assert life["value"].sel(situation="cycle") == cell.bearings(motion)["modified_life"].sel(bearing=name)
    assert life["safety"].sel(situation="cycle") == life["value"].sel(situation="cycle") / (20000 * HOUR)
    assert np.isnan(life["value"].sel(situation=["rest", "stop"])).all()
    assert not life["looked_at"].sel(situation=["rest", "stop"]).any()
    checked = cell.drive_check(motion, factors=False)
    drives = found.isel(figure=found["group"].values == list(GROUPS).index("drive"))
    wanted = checked["share"].values[checked["share_part"].values != "joint"]
    assert sorted(drives["value"].sel(situation="cycle").values) == sorted(wanted)
    assert drives["safety"].sel(situation="cycle").values == pytest.approx(1 / drives["value"].sel(situation="cycle"))


def test_what_is_not_told_has_its_line_and_no_safety(found: xr.Dataset, cell: aw.Cell, motion: aw.TimedMotion) -> None:
    lost = {str(found["part"].values[one.figure]) for one in least_safeties(found) if one.verdict == "NOT LOOKED AT"}
    assert {f"joint {k}: no bearing told" for k in range(3, 7)} < lost
    assert {f"link {k}: no tube told" for k in range(2, 7)} < lost
    bare = figure(found, "joint 3: no bearing told", "tilting moment").sel(situation="stop")
    wrenches = cell.joint_wrenches(rows=cell.load_rows(motion).only("stop"))
    extreme = wrenches["extreme"].sel(part="joint 3", quantity="tilting moment", end="greatest")
    assert bare["value"] == extreme and bare["case"] != ""
    assert "joint 3: no bearing is described" in found.attrs["missing"]


def test_what_a_moment_rating_decides_is_told_apart_from_the_load() -> None:
    rows = rows_by_hand([0.0, 1.0], 1.0)
    for told, decides in ((slewing(static_moment_rating=300.0), True), (slewing(), False)):
        cell = ball_on_axis(told)
        found, row = cell.part_loads(rows=rows), cell.bearings(rows=rows).isel(bearing=0)
        load = figure(found, "axis 1: bearing", "static equivalent load").sel(situation="cycle")
        assert load["value"] == row["static_load"] and load["bears"] == 30e3
        assert np.isnan(float(load["wanted"])) == decides
        if decides:
            least = figure(found, "axis 1: bearing", LEAST_STATIC).sel(situation="cycle")
            assert least["safety"] == row["safety"] == row["moment_safety"] < row["static_safety"]
            assert np.isnan(least["value"]) and least["wanted"] == row["wanted_static"]


def test_nothing_told_at_all() -> None:
    cell = laden_cell(track=False, told=False)
    found = cell.part_loads()
    judged = [one for one in least_safeties(found) if not np.isnan(one.wanted)]
    assert judged and all(np.isnan(one.safety) for one in judged)
    assert found.attrs["weakest"] == "nothing could be judged" and "weakest_share" not in found.attrs
    assert list(found["situation"].values) == ["rest", "stop"]
    assert {"bolts of the base: not told", "mounting face"} < set(found["part"].values)
    assert "no cycle is given" in found.attrs["missing"]
    on_track = laden_cell(told=False).part_loads()
    assert "blocks of the track: not told" in on_track["part"].values


def test_without_drives_nothing_stops() -> None:
    from cases.described import positioner

    cell = aw.Cell(positioner(), load=aw.Load(3.0))
    found = cell.part_loads(swing())
    assert list(found["situation"].values) == ["rest", "cycle"]
    assert "no drives are described: no stops" in found.attrs["missing"]


def test_the_weakest_is_the_least_of_all_shares(found: xr.Dataset) -> None:
    share = found["safety"].values / found["wanted"].values[:, None]
    assert found.attrs["weakest_share"] == np.nanmin(share)
    part = found.attrs["weakest"].split(": ")[0]
    assert part in str(found["part"].values[int(np.nanargmin(np.nanmin(np.where(np.isnan(share), np.inf, share), 1)))])


def test_rows_instead_of_a_cycle(cell: aw.Cell, motion: aw.TimedMotion, found: xr.Dataset) -> None:
    rows = cell.load_rows(motion).only("stop")
    stops = cell.part_loads(rows=rows)
    assert list(stops["situation"].values) == ["stop"]
    name = "joint 1: bearing"
    a, b = (figure(each, name, "static equivalent load")["value"].sel(situation="stop") for each in (stops, found))
    assert a == b
    both = cell.part_loads(motion, rows=rows)  # the cycle is that of motors and stages
    assert "motors and stages: no cycle is given" in stops.attrs["missing"]
    assert "no cycle is given" not in both.attrs["missing"] and list(both["situation"].values) == ["stop"]
    with pytest.raises(InputError, match="at least one row"):
        cell.part_loads(rows=rows.only("cycle"))
    with pytest.raises(InputError, match="reliability: got 80 %"):
        cell.part_loads(motion, reliability="80 %")


def test_by_an_executor_the_same_bits(cell: aw.Cell, motion: aw.TimedMotion, tmp_path: Path) -> None:
    plain = cell.part_loads(motion)
    with ThreadPoolExecutor(1) as pool:
        assert cell.part_loads(motion, executor=pool, store=tmp_path).identical(plain)
    assert cell.part_loads(motion, store=tmp_path).identical(plain)
