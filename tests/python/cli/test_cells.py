"""Each command writes what the method of the same name gives for the same options, and says what it wrote."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
import xarray as xr

import armwright as aw
from armwright.cli import main
from armwright.cli.cells import _names
from armwright.report import targets_table
from cases.command_files import six_axis_cell
from cases.command_line import ran, refused

CELL = """\
arm = "{arm}"
[load]
mass = "1 kg"
[[fixture]]
kind = "box"
name = "post"
size = "100, 100, 400 mm"
position = "0.3, 0.5, 0.2 m"
[[target]]
name = "near"
position = "400, 200, 300 mm"
direction = "down"
spin = "free"
tilt = "30 deg"
[[target]]
name = "far"
position = "9 m, 0 m, 0 m"
direction = "down"
"""


@pytest.fixture
def cell_file(tmp_path: Path) -> Path:
    return six_axis_cell(tmp_path, CELL)


def test_check_tells_what_a_file_holds(cell_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    cell = aw.load_cell(cell_file)
    assert main(["check", str(cell_file)]) == 0
    said = capsys.readouterr().out
    assert cell.fixtures and cell.targets and cell.touching_pairs
    for told in (cell, cell.arm, *cell.fixtures, *cell.targets):
        assert str(told) in said
    for a, b in cell.touching_pairs:
        assert f"{a} and {b}" in said


def test_check_tells_what_is_assumed(driven: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(driven / "cell.toml")]) == 0
    said = capsys.readouterr().out
    cell = aw.load_cell(driven / "cell.toml")
    assert cell.assumptions and cell.supply is not None and cell.supply.assumptions
    for text in (*cell.assumptions, *cell.supply.assumptions):
        assert f"  assumed: {text}\n" in said
    assert str(cell.supply) in said


def test_check_tells_every_problem_with_its_line(cell_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    cell_file.write_text(CELL.replace('"1 kg"', '"1 m"').replace("tilt", "tlit"), encoding="utf-8")
    told = refused(capsys, "check", str(cell_file)).splitlines()
    assert any("cell.toml:3: load.mass" in line for line in told)
    assert any("tlit" in line and "tilt" in line for line in told)


def written(folder: Path, study: str) -> xr.Dataset:
    return aw.open_result(folder / f"{study}.nc")


def test_a_store_is_gone_on_with(cell_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    asked = ("--spacing", "300 mm", "--directions", "4", "--quiet", "--store", str(tmp_path / "kept"))
    said = ran(capsys, "reach", str(cell_file), "-o", str(tmp_path / "out"), *asked)
    parts = {path.name: path.stat().st_mtime_ns for path in (tmp_path / "kept").glob("map-*.nc")}
    assert parts
    assert ran(capsys, "reach", str(cell_file), "-o", str(tmp_path / "out"), *asked) == said
    assert parts == {path.name: path.stat().st_mtime_ns for path in (tmp_path / "kept").glob("map-*.nc")}
    refused(capsys, "reach", str(cell_file), "-o", str(tmp_path / "out"), *asked, "--margin", "1 cm")


def test_reach(cell_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    options = ("--spacing", "400 mm", "--directions", "5", "--spins", "2", "--margin", "10 mm")
    said = ran(capsys, "reach", str(cell_file), "-o", str(tmp_path / "out"), *options)
    cell = aw.load_cell(cell_file)
    result = cell.reach_map("400 mm", directions=5, spins=2, margin="10 mm")
    assert result["reachable"].values.any()
    assert written(tmp_path / "out", "reach_map").identical(result)
    for path in (tmp_path / "out").iterdir():
        assert f"wrote {path}" in said
    ran(capsys, "reach", str(cell_file), "-o", str(tmp_path / "out"), *options, "--no-fixtures")
    free = written(tmp_path / "out", "reach_map")
    assert free.identical(cell.reach_map("400 mm", directions=5, spins=2, margin="10 mm", fixtures=False))
    assert not free.identical(result)


def test_payload(cell_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    ran(capsys, "payload", str(cell_file), "-o", str(tmp_path / "out"), "--spacing", "400 mm", "--directions", "4",
        "--spins", "1", "--attitude", "level", "--limit", "peak", "--centre", "0, 0, 80 mm")  # fmt: skip
    result = aw.load_cell(cell_file).payload_map("400 mm", directions=4, spins=1, attitude="level", limit="peak",
                                                 centre=(0, 0, 0.08))  # fmt: skip
    assert np.isfinite(result["mass_greatest"].values).any()
    assert written(tmp_path / "out", "payload_map").identical(result)


def test_targets(cell_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "out"
    said = ran(capsys, "targets", str(cell_file), "-o", str(out), "--order", "clearance, limit_margin")
    result = aw.load_cell(cell_file).check_targets(order=("clearance", "limit_margin"))
    assert written(out, "check_targets").identical(result)
    assert targets_table(result) in said and "1 of 2 work points served" in said
    assert (out / "work_points.png").exists()
    told = refused(capsys, "targets", str(cell_file), "-o", str(out), "--quiet", "--order", "clearence")
    assert "order" in told and "clearance" in told
    arm = next(path for path in tmp_path.glob("*.toml") if path != cell_file)
    assert "at least one work point" in refused(capsys, "targets", str(arm), "-o", str(out), "--quiet")


def test_track(cell_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out, on_track = tmp_path / "out", tmp_path / "on_track.toml"
    more = '[track]\naxis = "x"\nstroke = "1 m"\n'
    on_track.write_text(cell_file.read_text(encoding="utf-8") + more, encoding="utf-8")
    options = ("--within", "-1 m, 2 m", "--strokes", "0.5 m, 2 m", "--price", "800, 1200", "--currency", "EUR")
    said = ran(capsys, "track", str(on_track), "-o", str(out), *options)
    cell = aw.load_cell(on_track)
    assert written(out, "track_intervals").identical(cell.track_intervals(stroke=(-1, 2)))
    prices = aw.TrackPrices(800.0, 1200.0, currency="EUR")
    worth = cell.track_worth(["0.5 m", "2 m"], within=(-1, 2), prices=prices)
    assert written(out, "track_worth").identical(worth)
    assert "2,800 EUR" in said and (out / "track_intervals.png").exists() and (out / "track_worth.png").exists()
    assert "--price" in refused(capsys, "track", str(on_track), "-o", str(out), "--quiet", "--price", "dear")
    assert "--within" in refused(capsys, "track", str(on_track), "-o", str(out), "--quiet", "--within", "short")
    assert "track: got none" in refused(capsys, "track", str(cell_file), "-o", str(out), "--quiet")


def test_place(cell_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "out"
    options = ("--x", "-0.5 m, 0.5 m", "--y", "-50 cm, 0.5 m", "--yaw", "-90 deg, 90 deg", "--samples", "40", "--aims",
               "limit_margin,clearance", "--attitudes", "floor,ceiling", "--forbid", "-1, -1, 0, -0.2 m")  # fmt: skip
    said = ran(capsys, "place", str(cell_file), "-o", str(out), *options)
    result = aw.load_cell(cell_file).placement(
        x=(-0.5, 0.5), y=(-0.5, 0.5), yaw=("-90 deg", "90 deg"), samples=40, aims=("limit_margin", "clearance"),
        attitudes=("floor", "ceiling"), forbidden=[((-1, -1), (0, -0.2))],
    )  # fmt: skip
    assert written(out, "placement").identical(result)
    assert "Balanced base at" in said
    names = {path.name for path in out.glob("*.png")}
    assert names == {"placement_served.png", "placement_worst.png", "placement_set.png"}
    assert "--forbid" in refused(capsys, "place", str(cell_file), "--x", "0 m, 1 m", "--forbid", "0, 1 m", "--quiet")
    told = refused(capsys, "place", str(cell_file), "--x", "0 m, 1 m", "--going-along", "post, desk", "--quiet")
    assert "--going-along: got 'desk'" in told
    assert "placement: got nothing to be chosen" in refused(capsys, "place", str(cell_file), "--quiet")


def test_names_that_hold_commas() -> None:
    known = ["rack, back", "rack", "post", "rack, shelf 1, left"]
    assert _names("rack, shelf 1, left, post,rack, back", known) == ["rack, shelf 1, left", "post", "rack, back"]
    assert _names("rack, front", known) == ["rack", "front"]


def test_outlines(cell_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    ran(capsys, "outlines", str(cell_file), "-o", str(tmp_path / "out"), "--units", "us", "--threads", "1")
    assert {path.name for path in (tmp_path / "out").iterdir()} == {"outlines.nc", "outlines.png", "outlines.txt"}
    assert written(tmp_path / "out", "outlines").identical(aw.load_cell(cell_file).outlines())


def test_page(cell_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["page", str(cell_file), "-o", str(tmp_path / "out"), "--quiet"]) == 0
    assert capsys.readouterr().out.strip() == str(tmp_path / "out" / "cell.html")
    page = (tmp_path / "out" / "cell.html").read_text(encoding="utf-8")
    assert "post" in page and "near" in page and "http://" not in page.replace("http://www.w3.org", "")


def test_page_with_maps_and_a_cycle(driven: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "out"
    what = ["page", str(driven / "cell.toml"), "-o", str(out), "--quiet"]
    maps = ["--reach", "150 mm", "--payload", "200 mm", "--attitude", "down"]
    assert main([*what, *maps, "--cycle", str(driven / "cycle.toml")]) == 0
    assert capsys.readouterr().out.strip() == str(out / "cell.html")
    page = (out / "cell.html").read_text(encoding="utf-8")
    assert '"study":"reach_map"' in page and '"attitude":"down"' in page and '"duration":' in page
    assert "a unit of length" in refused(capsys, *what, "--reach", "0.5 kg")


@pytest.mark.parametrize("kind", ["arm", "cell"])
def test_schema(kind: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema", kind]) == 0
    assert json.loads(capsys.readouterr().out)["type"] == "object"


def test_check_tells_in_us_units(cell_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The load of 1 kg, the post of 100 by 100 by 400 mm at (0.3, 0.5, 0.2) m."""
    assert main(["check", str(cell_file), "--units", "us"]) == 0
    said = capsys.readouterr().out
    assert "Box 'post': 3.937 x 3.937 x 15.75 in at (11.81, 19.69, 7.874) in" in said and " mm" not in said


def test_what_is_wrong_with_an_option_names_it(cell_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = refused(capsys, "targets", str(cell_file), "--margin", "5 kg", "-o", str(cell_file.parent / "out"))
    assert text.startswith('--margin: got "5 kg", expected a unit of length')


def test_an_arm_alone_has_no_work_points(cell_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    arm = str(cell_file.parent / cell_file.read_text().split('"')[1])
    assert main(["check", arm]) == 0
    assert "armwright reach " in (said := capsys.readouterr().out) and "armwright targets" not in said
    out = str(cell_file.parent / "out")
    assert "a [[target]] of the cell's file" in refused(capsys, "targets", arm, "-o", out)


def test_a_pair_that_is_not_there_is_told_with_its_file(cell_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    cell_file.write_text('ignored_pairs = [["post", "nothing"]]\n' + cell_file.read_text())
    assert refused(capsys, "check", str(cell_file)).startswith(f"{cell_file}: ignored pair: got 'nothing'")
