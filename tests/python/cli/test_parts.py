"""The commands on what parts bear write what the methods of the same names give for the same options."""

from __future__ import annotations

import shutil
from importlib.resources import files
from pathlib import Path

import pytest
import xarray as xr

import armwright as aw
from cases.command_line import ran, refused

DEMO = files("armwright") / "demo"


@pytest.fixture
def studio(tmp_path: Path) -> Path:
    """The demonstration's files, in a folder of their own."""
    folder = tmp_path / "studio"
    shutil.copytree(str(DEMO), folder)
    return folder


def written(folder: Path) -> dict[str, xr.Dataset]:
    return {path.stem: aw.open_result(path) for path in folder.glob("*.nc")}


def test_bears(studio: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "out"
    cell, cycle = str(studio / "cell.toml"), str(studio / "cycle.toml")
    said = ran(capsys, "bears", cell, "-o", str(out), "--cycle", cycle, "--reliability", "95 %", "--life", "9000 h")
    found = written(out)
    assert set(found) == {"part_loads", "joint_wrenches", "bearings", "base_loads", "link_stress", "track_loads"}
    made = aw.load_cell(cell)
    cycled = aw.load_cycle(cycle, made)
    assert found["part_loads"].equals(made.part_loads(cycled, reliability=0.95, wanted_life="9000 h"))
    assert found["bearings"].equals(made.bearings(cycled, reliability=0.95, wanted_life="9000 h"))
    assert found["track_loads"].equals(made.track_loads(rows=made.load_rows(cycled), reliability=0.95))
    assert "bears.html" in said and "NOT LOOKED AT: axis 5: wrist bearings, near" in said  # no life is told of it
    assert "; axis 6: no bearing told" in said
    page = (out / "bears.html").read_text(encoding="utf-8")
    assert "at 95 %" in page and "axis 1: swing bearing" in page
    names = {path.name for path in out.glob("*.png")}
    assert names == {"part_loads.png", "joint_wrenches.png", "bolts.png", "blocks.png", "blocks_over_cycle.png"}


def test_bears_of_a_bare_arm(driven: Path, capsys: pytest.CaptureFixture[str]) -> None:
    ran(capsys, "bears", str(driven / "cell.toml"), "-o", str(driven / "out"), "--over-reach", "300 mm")
    found = written(driven / "out")
    assert set(found) == {"part_loads", "joint_wrenches", "bearings", "base_loads"}
    assert "no cycle is given" in found["part_loads"].attrs["missing"]


def test_sag_and_error(studio: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    cell = str(studio / "cell.toml")
    ran(capsys, "sag", cell, "-o", str(tmp_path / "sag"), "--spacing", "300 mm", "--units", "us")
    found = written(tmp_path / "sag")
    made = aw.load_cell(cell)
    assert set(found) == {"sag", "sag_over_reach", "stiffness"}
    assert found["sag"].equals(made.sag()) and found["sag_over_reach"].equals(made.sag_over_reach("300 mm"))
    assert found["stiffness"].sizes["posture"] == 10  # one of eleven is not reached at all
    assert {path.name for path in (tmp_path / "sag").glob("*.png")} == {"sag.png", "sag_over_reach.png"}
    said = ran(capsys, "error", cell, "-o", str(tmp_path / "error"))
    assert "tool point off by at least" in said
    assert written(tmp_path / "error")["tool_error"].equals(made.tool_error())


def test_lift(studio: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    said = ran(capsys, "lift", str(studio / "cell.toml"), "-o", str(tmp_path / "lift"))
    assert set(written(tmp_path / "lift")) == {"lifting", "service"} and "leans by" in said
    assert {path.name for path in (tmp_path / "lift").glob("*.png")} == {"hanging.png", "hanging_level.png"}


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("bears", "cell.toml", "--reliability", "80 %"), "reliability: got 80 %"),
        (("bears", "cell.toml", "--reliability", "nan"), "reliability"),
        (("bears", "cell.toml", "--life", "20000"), 'did you mean "20000'),
        (("bears", "cell.toml", "--life", "-3 h"), "--life: got"),
        (("bears", "cell.toml", "--cycle", "none.toml"), "none.toml"),
        (("bears", "cell.toml", "--cycle", "cell.toml"), "cell.toml"),
        (("sag", "cell.toml", "--spacing", "100"), "spacing"),
        (("sag", "cell.toml", "--spacing", "nan mm"), "spacing"),
        (("sag", "none.toml"), "none.toml"),
    ],
)
def test_wrong_input(
    arguments: tuple[str, ...], words: str, studio: Path, capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    monkeypatch.chdir(studio)
    assert words in refused(capsys, *arguments, "-o", "out", "--quiet")


def test_arms_of_which_nothing_is_told(arm_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    cell, out = str(arm_file), str(arm_file.parent / "out")
    assert "nothing that gives way is told" in refused(capsys, "sag", cell, "-o", out, "--quiet")
    assert "work point" in refused(capsys, "error", cell, "-o", out, "--quiet")
    assert "Which motors come out was not looked at" in ran(capsys, "lift", cell, "-o", out)
    assert set(written(arm_file.parent / "out")) == {"lifting"}
