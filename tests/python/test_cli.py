"""The command line on input that is no good: exit code 2, a sentence for each problem, before any work."""

from __future__ import annotations

from pathlib import Path

import pytest

from armwright.cli import main
from cases.description_files import ARM


@pytest.fixture
def arm_file(tmp_path: Path) -> Path:
    path = tmp_path / "arm.toml"
    path.write_text(ARM, encoding="utf-8")
    return path


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
