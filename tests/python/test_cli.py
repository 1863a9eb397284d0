"""The command line: what its commands say and write; input that is no good ends in exit code 2 and a sentence for each
problem, before any work."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import xarray as xr

from armwright.cli import main
from cases.description_files import ARM
from cases.drive_files import write_driven


@pytest.fixture
def arm_file(tmp_path: Path) -> Path:
    path = tmp_path / "arm.toml"
    path.write_text(ARM, encoding="utf-8")
    return path


@pytest.fixture(autouse=True)
def _no_window(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MPLBACKEND", "Agg")


def refused(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert main(arguments) == 2
    told = capsys.readouterr()
    assert told.out == "" and "Traceback" not in told.err
    return told.err


@pytest.mark.parametrize("command", ["reach", "payload", "outlines", "page"])
def test_a_folder_that_cannot_be_made_is_told_before_the_work(
    command: str, arm_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for folder in (arm_file, arm_file / "below a file"):
        told = refused(capsys, command, str(arm_file), "--quiet", "-o", str(folder))
        assert "output: got" in told and "a folder that can be made" in told and told.count("\n") == 1


def test_the_demo_needs_a_folder_too(arm_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert "a folder that can be made" in refused(capsys, "demo", str(arm_file), "--quiet")


def test_no_folder_is_made_for_input_that_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    refused(capsys, "reach", str(tmp_path / "none.toml"), "-o", str(tmp_path / "out"))
    assert not (tmp_path / "out").exists()


def test_files_that_are_no_descriptions(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    deep = tmp_path / "deep.toml"
    deep.write_text("x = " + 100_000 * "[")
    for path in (deep, tmp_path, tmp_path / "none.urdf", Path("/dev/null")):
        refused(capsys, "check", str(path))


CELL = """\
name = "small cell"
arm = "arm.toml"
[load]
name = "pot"
mass = "3 kg"
[supply]
voltage = "230 V"
branch_current = "16 A"
"""

CYCLE = """\
name = "up and round"
[[move]]
kind = "joints"
name = "there"
posture = ["60 deg", "200 mm"]
[[move]]
kind = "pick up"
[[move]]
kind = "dwell"
time = "0.5 s"
[[move]]
kind = "joints"
name = "back"
posture = ["0 deg", "20 mm"]
[[move]]
kind = "set down"
"""


@pytest.fixture
def driven(tmp_path: Path) -> Path:
    """A folder with the cell of a driven arm, cell.toml, and a cycle for it, cycle.toml."""
    write_driven(tmp_path)
    (tmp_path / "cell.toml").write_text(CELL, encoding="utf-8")
    (tmp_path / "cycle.toml").write_text(CYCLE, encoding="utf-8")
    return tmp_path


def ran(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert main((*arguments, "--quiet")) == 0
    said = capsys.readouterr().out
    assert said.count("Caution:") == 1
    return said


def test_a_cycle_is_timed_checked_and_written(driven: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = driven / "out"
    files = (str(driven / "cell.toml"), str(driven / "cycle.toml"), "-o", str(out))
    said = ran(capsys, "cycle", *files, "--rate", "100")
    for words in ("up and round: ", "there, ", "could carry ", "held still", "of the branch circuit", "setpoints.csv"):
        assert words in said, words
    assert {path.name for path in out.iterdir()} == {
        "motion.nc", "motion.txt", "drive_check.nc", "drive_check.txt", "cycle_torques.png", "operating_points.png",
        "payload_against_time.nc", "payload_against_time.txt", "payload_against_time.png", "power.nc", "power.txt",
        "power.png", "setpoints.csv",
    }  # fmt: skip
    motion = xr.load_dataset(out / "motion.nc")
    rows = (out / "setpoints.csv").read_text(encoding="utf-8").splitlines()
    # a row every 10 ms, one at the end, and the heading
    assert len(rows) == 1 + 1 + int(np.ceil(round(motion.attrs["duration"] * 100, 6)))


def test_a_cell_without_a_supply_has_no_power(driven: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (driven / "cell.toml").write_text(CELL[: CELL.index("[supply]")], encoding="utf-8")
    ran(capsys, "cycle", str(driven / "cell.toml"), str(driven / "cycle.toml"), "-o", str(driven / "out"))
    assert not (driven / "out" / "power.nc").exists() and not (driven / "out" / "setpoints.csv").exists()


def test_a_cycle_that_a_limit_forbids(driven: Path, capsys: pytest.CaptureFixture[str]) -> None:
    hasty = CYCLE.replace('name = "back"', 'name = "back"\nduration = "0.1 s"')
    (driven / "cycle.toml").write_text(hasty, encoding="utf-8")
    told = refused(capsys, "cycle", str(driven / "cell.toml"), str(driven / "cycle.toml"), "-o", str(driven / "out"))
    # the move, by how much, the limit, the axis
    for words in ("back: 0.1 s asked, takes ", "held back by motor speed of axis 2", "expected at least "):
        assert words in told, words
    assert not list((driven / "out").iterdir())


@pytest.mark.parametrize(("more", "words"), [
    (("none.toml",), "none.toml: file"),
    (("cell.toml",), "move: got nothing"),
    (("cycle.toml", "--rate", "-3"), "rate: got -3"),
])  # fmt: skip
def test_cycles_that_are_none(
    more: tuple[str, ...], words: str, driven: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(driven)
    assert words in refused(capsys, "cycle", "cell.toml", *more, "-o", "out", "--quiet")


def test_an_arm_without_drives(driven: Path, arm_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert arm_file == driven / "arm.toml"  # now the one without drives
    moves = CYCLE.replace('["60 deg", "200 mm"]', '["60 deg", "20 deg", "0 deg"]').replace(
        '["0 deg", "20 mm"]', '["0 deg", "0 deg", "0 deg"]'
    )
    arm_file.write_text(ARM, encoding="utf-8")
    (driven / "cycle.toml").write_text(moves, encoding="utf-8")
    asked = (str(driven / "cell.toml"), str(driven / "cycle.toml"), "-o", str(driven / "out"))
    # what is stated of the joints' torques is all there is
    assert "stated: continuous torque" in ran(capsys, "cycle", *asked)
    assert not (driven / "out" / "operating_points.png").exists()
    told = refused(capsys, "stops", str(driven / "cell.toml"), "-o", str(driven / "out"), "--quiet")
    assert "a motor with its curve" in told
    bare = "\n".join(line for line in ARM.splitlines() if not line.startswith(("torque", "motor")))
    arm_file.write_text(bare, encoding="utf-8")
    told = refused(capsys, "cycle", *asked, "--quiet")
    assert "there" in told and "limit" in told and "axis 1" in told


def test_payload_at_speed(driven: Path, capsys: pytest.CaptureFixture[str]) -> None:
    asked = ("speed", str(driven / "cell.toml"), "-o", str(driven / "out"), "--spacing", "200 mm")
    said = ran(capsys, *asked, "--tool-acceleration", "0.5 m/s^2", "--speed-share", "0.1")
    assert "0.5 m/s² any way" in said and "0.1 of the joints' speeds" in said
    assert {path.suffix for path in (driven / "out").iterdir()} == {".nc", ".png", ".txt"}
    for more, words in (
        ((), "at least one of them"),
        (("--tool-acceleration", "3 m"), "a unit of acceleration"),
        (("--speed-share", "2"), "0 to 1"),
        (("--speed-share", "0.2"), "turns faster than it may"),
        (("--tool-acceleration", "-1 m/s^2"), "tool_acceleration"),
    ):  # fmt: skip
        assert words in refused(capsys, *asked, "--quiet", *more)


def test_stops(driven: Path, capsys: pytest.CaptureFixture[str]) -> None:
    asked = ("stops", str(driven / "cell.toml"), "-o", str(driven / "out"))
    at_once, later = ran(capsys, *asked), ran(capsys, *asked, "--reaction", "100 ms")
    assert "axis 1: at worst " in at_once and "does not hold" in at_once and "no brake" in at_once
    assert "axis 1, category 0: " in at_once and at_once != later
    assert {path.name for path in (driven / "out").iterdir()} == {
        "holding.nc", "holding.png", "holding.txt", "stop_table.nc", "stop_table.txt", "switches.nc", "switches.txt",
        "separation.nc", "separation.txt",
    }  # fmt: skip
    assert "reaction" in refused(capsys, *asked, "--quiet", "--reaction", "-1 s")


def test_the_demo_answers_what_it_promises(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(("demo", str(tmp_path), "--quiet")) == 0
    said = capsys.readouterr().out
    for words in (
        "of 11 work points served", "reachable volume", "rack, glaze, kiln: ", "could carry ", "could go ",
        "of the branch circuit", "no brake; without power it moves", "the tool drops by", "moves 0 kg",
        "meets the end of its range",
        "Caution:",
    ):  # fmt: skip
        assert words in said, words
    pictures = {path.stem for path in tmp_path.glob("*.png")}
    assert pictures >= {
        "work_points", "reach_section", "payload_section", "payload_against_reach", "outlines", "cycle_torques",
        "operating_points", "payload_against_time", "power", "payload_at_speed", "holding", "stop",
    }  # fmt: skip
    results = {path.stem: xr.load_dataset(path) for path in tmp_path.glob("*.nc")}
    assert all(result.attrs["study"] == name for name, result in results.items())
    # the cycle can be run as it is timed: nothing is loaded past what it bears
    assert results["drive_check"].attrs["weakest_share"] <= 1 + 1e-9
    assert results["payload_against_time"]["mass"].sel(slowing=1).item() >= 6
    assert (tmp_path / "cell.html").stat().st_size > 100_000
