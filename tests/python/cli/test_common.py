from __future__ import annotations

from argparse import Namespace
from pathlib import Path
from typing import Any

import pytest

import armwright as aw
from armwright.cli.common import grid_options, load, make_folder
from cases.command_files import CELL
from cases.command_line import refused


@pytest.mark.parametrize("command", ["reach", "payload", "outlines", "page"])
def test_a_folder_that_cannot_be_made_is_told_before_the_work(
    command: str, arm_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for folder in (arm_file, arm_file / "below a file"):
        told = refused(capsys, command, str(arm_file), "--quiet", "-o", str(folder))
        assert "output: got" in told and "a folder that can be made" in told and told.count("\n") == 1


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ('start = "a"\n[[move]]\nkind = "dwell"', "a cycle"), ('[[brake]]\ntorque = "1 N*m"', "a file of parts"),
        ('[[target]]\nname = "a"', "a file of work points"),
    ],
)  # fmt: skip
def test_another_file_in_the_place_of_a_cell_is_told_as_what_it_is(
    text: str, what: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "it.toml").write_text(text, encoding="utf-8")
    said = refused(capsys, "check", str(tmp_path / "it.toml"))
    assert f"file: got {what}, expected a cell (.toml), or an arm" in said and len(said.splitlines()) == 1


def test_no_folder_is_made_for_input_that_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    refused(capsys, "reach", str(tmp_path / "none.toml"), "-o", str(tmp_path / "out"))
    assert not (tmp_path / "out").exists()


def test_a_folder_that_may_not_be_written_to(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # os.access is asked, as root may write anywhere
    monkeypatch.setattr("os.access", lambda path, how: False)
    with pytest.raises(aw.InputError, match=r"^output: got .*out, expected a folder that can be made and written to$"):
        make_folder(tmp_path / "out")


def asked(file: Path, **more: Any) -> Namespace:
    return Namespace(**({"file": file, "base": None, "tool": None} | more))


def test_an_arm_file_is_a_cell_with_nothing_else(arm_file: Path) -> None:
    cell = load(asked(arm_file))
    assert cell.arm == aw.load_arm(arm_file) and not cell.fixtures and not cell.targets
    assert load(asked(arm_file)).digest() == aw.Cell(aw.load_arm(arm_file)).digest()


def test_a_cell_file_names_its_base_and_tool_itself(driven: Path) -> None:
    assert load(asked(driven / "cell.toml")).digest() == aw.load_cell(driven / "cell.toml").digest()
    for more in ({"base": "base"}, {"tool": "hand"}):
        with pytest.raises(aw.InputError, match=r"^--base, --tool: got given with a cell file, expected these with an"):
            load(asked(driven / "cell.toml", **more))


def test_the_folder_is_made_once_the_file_is_read(driven: Path) -> None:
    load(asked(driven / "cell.toml", output=driven / "out" / "deep"))
    assert (driven / "out" / "deep").is_dir()
    (driven / "cell.toml").write_text(CELL.replace("3 kg", "3 m"), encoding="utf-8")
    with pytest.raises(aw.InputError, match="mass"):
        load(asked(driven / "cell.toml", output=driven / "other"))
    assert not (driven / "other").exists()


def test_only_what_was_asked_for_is_handed_on() -> None:
    told = Namespace(
        directions=None, spins=3, spacing="50 mm", margin="1 mm", no_fixtures=True, threads=2, quiet=True, store="kept"
    )
    assert grid_options(told) == {
        "spins": 3, "spacing": "50 mm", "margin": "1 mm", "fixtures": False, "threads": 2, "progress": False,
        "store": "kept",
    }  # fmt: skip
