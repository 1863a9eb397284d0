from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import xarray as xr

from cases.command_files import CELL, CYCLE
from cases.command_line import ran, refused
from cases.description_files import ARM


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
    (("cell.toml",), "cell.toml: file: got a cell, expected a cycle"),
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
        (("--tool-acceleration", "-1 m/s^2"), "--tool-acceleration"),
    ):  # fmt: skip
        assert words in refused(capsys, *asked, "--quiet", *more)


def test_stops(driven: Path, capsys: pytest.CaptureFixture[str]) -> None:
    asked = ("stops", str(driven / "cell.toml"), "-o", str(driven / "out"))
    at_once, later = ran(capsys, *asked), ran(capsys, *asked, "--reaction", "100 ms")
    assert "axis 1: at worst " in at_once and "does not hold" in at_once and "no brake" in at_once
    assert "axis 1, category 0: " in at_once and at_once != later
    assert "the arm sags meanwhile" in later
    assert "the motors hold for 0.5 s" in ran(capsys, *asked, "--hold-after", "0.5 s")
    assert {path.name for path in (driven / "out").iterdir()} == {
        "holding.nc", "holding.png", "holding.txt", "stop_table.nc", "stop_table.txt", "switches.nc", "switches.txt",
        "separation.nc", "separation.txt",
    }  # fmt: skip
    assert "reaction" in refused(capsys, *asked, "--quiet", "--reaction", "-1 s")
