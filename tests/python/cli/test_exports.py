"""The command export, its files read back by libraries that are not ours."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

import armwright as aw
from armwright.cli import main
from armwright.results import to_netcdf
from cases import sample_results as sample
from cases.command_files import six_axis_cell
from cases.command_line import refused
from cases.dxf_files import outlines_on, read_dxf, words
from cases.glb_files import GlbFile, z_up

CELL = """\
arm = "{arm}"
[track]
axis = "x"
stroke = "1 m"
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


def ran(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> list[Path]:
    assert main(("export", *map(str, arguments), "--quiet")) == 0
    said = capsys.readouterr().out.splitlines()
    assert all(line.startswith("wrote ") for line in said)
    return [Path(line.removeprefix("wrote ")) for line in said]


def test_a_cell_at_a_work_point(cell_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pytest.importorskip("pygltflib")
    (path,) = ran(capsys, cell_file, tmp_path / "cell.glb", "--at", "near")
    read = GlbFile(path)
    cell = aw.load_cell(cell_file)
    q = [read.extras(name)["position"] for name in cell.joint_names]
    np.testing.assert_allclose(cell.tool_pose(q)[:3, 3], [0.4, 0.2, 0.3], atol=1e-6)
    assert read.extras("near")["told"] == "served" and read.extras("far")["told"] == "not served"
    posture = "0.25 m, 10 deg, 20 deg, -30 deg, 0 deg, 0.5 rad, 0 deg"
    read = GlbFile(ran(capsys, cell_file, tmp_path / "cell.glb", "--posture", posture)[0])
    q = [0.25, *np.radians([10, 20, -30, 0]), 0.5, 0]
    np.testing.assert_allclose([read.extras(name)["position"] for name in cell.joint_names], q)
    np.testing.assert_allclose(z_up(read.vertices("post")).max(axis=0), [0.35, 0.55, 0.4], atol=1e-6)


def test_a_plan_with_the_reach(
    cell_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    pytest.importorskip("shapely")
    monkeypatch.setattr(aw.Cell, "outlines", lambda cell, **how: sample.outlines())  # its study has its own tests
    space = read_dxf(ran(capsys, cell_file, tmp_path / "plan.DXF", "--reach")[0])
    wanted = sample.outlines()["plan"].values
    told = np.concatenate([line for line, _ in outlines_on(space, "REACH")])
    np.testing.assert_allclose(told.max(axis=0), 1000 * np.nanmax(wanted, axis=0))
    assert "served" in words(space) and any(line.startswith("NOT SERVED: out of reach") for line in words(space))


def test_results(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    openpyxl, _ = pytest.importorskip("openpyxl"), pytest.importorskip("skimage")
    payload = to_netcdf(sample.payload_map(0.25), tmp_path / "payload.nc")
    outlines = to_netcdf(sample.outlines(), tmp_path / "outlines.nc")
    tables = ran(capsys, payload, tmp_path / "p.csv", "--units", "us")
    assert tables[0] == tmp_path / "p.csv" and "p-about.csv" in [path.name for path in tables]
    assert tables[0].read_text(encoding="utf-8").startswith("x (in),y (in),z (in),mass greatest (lb)")
    (book,) = ran(capsys, outlines, tmp_path / "o.xlsx")
    assert "plan_point" in openpyxl.load_workbook(book).sheetnames
    assert outlines_on(read_dxf(ran(capsys, outlines, tmp_path / "o.dxf")[0]), "PLAN TOOL POINT")
    read = GlbFile(ran(capsys, payload, tmp_path / "p.glb", "--threshold", "13.2277 lb")[0])
    assert read.extras("mass greatest of at least 6 kg")["threshold"] == pytest.approx(6, abs=1e-4)
    read = GlbFile(ran(capsys, to_netcdf(sample.reach_map(0.25), tmp_path / "r.nc"), tmp_path / "r.glb", "--threshold",
                       "100 mm", "--variable", "clearance")[0])  # fmt: skip
    assert "clearance of at least 0.1 m" in read.places


def test_refusals(cell_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    result, cell = str(to_netcdf(sample.reach_map(0.5), tmp_path / "r.nc")), str(cell_file)
    before = sorted(tmp_path.iterdir())
    for arguments, told in (
        ((cell, "a.step"), "for a cell a name that ends in .glb, .dxf"),
        ((cell, "a.csv"), "for a cell a name that ends in .glb, .dxf"),
        ((result, "a.stl"), "for a result a name that ends in .csv, .xlsx, .glb, .dxf"),
        ((result, "a.dxf"), "a result of outlines; of a map write GLB, CSV or xlsx"),
        ((result, "a.csv", "--at", "near"), "--at: got given with a result"),
        ((result, "a.csv", "--threshold", "1"), "--threshold: got given with a result as .csv"),
        ((result, "a.glb", "--threshold", "2"), "the most anywhere is 1"),
        ((result, "a.glb", "--threshold", "lots"), "--threshold"),
        ((cell, "a.glb", "--reach"), "--reach: got given with .glb"),
        ((cell, "a.glb", "--at", "nowhere"), "a work point: near, far"),
        ((cell, "a.glb", "--at", "far"), "a work point with a posture (out of reach"),
        ((cell, "a.glb", "--posture", "1 m"), "7, with commas between: track, "),
        ((cell, "a.glb", "--posture", "1 m, 1 m, 0 deg, 0 deg, 0 deg, 0 deg, 0 deg"), "expected a unit of angle"),
        ((cell, "a.glb", "--posture", "1 m", "--at", "near"), "both, expected one of them"),
        ((str(tmp_path / "a.glb"), "a.csv"), "a cell or arm (.toml, .urdf), or a stored result (.nc)"),
        ((str(tmp_path / "none.nc"), "a.csv"), "a result file written by to_netcdf"),
        ((cell, str(tmp_path / "none" / "a.glb")), "make"),
    ):
        assert told in refused(capsys, "export", arguments[0], str(tmp_path / arguments[1]), *arguments[2:], "--quiet")
    assert sorted(tmp_path.iterdir()) == before


def test_a_missing_library_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    import sys

    for name in ("xlsxwriter", "ezdxf", "skimage", "skimage.measure"):
        monkeypatch.setitem(sys.modules, name, None)
    for dataset, ending in ((sample.outlines(), "xlsx"), (sample.outlines(), "dxf"), (sample.reach_map(0.5), "glb")):
        path = to_netcdf(dataset, tmp_path / "r.nc")
        told = refused(capsys, "export", str(path), str(tmp_path / f"a.{ending}"))
        assert "in the environment: pip install 'armwright[export]'" in told
    assert [path.name for path in tmp_path.iterdir()] == ["r.nc"]
