"""The cell to start from is whole: it is read, its work points are served, its drives stand its cycle."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import armwright as aw
from armwright.cli import main
from armwright.cli.new import FILES
from cases.command_line import ran, refused


@pytest.fixture
def begun(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    folder = tmp_path / "my cell"
    assert main(["new", str(folder)]) == 0
    said = capsys.readouterr().out
    assert sorted(path.name for path in folder.iterdir()) == sorted(FILES)
    assert all(f"wrote {folder / name}" in said for name in FILES)
    assert f"armwright check '{folder / 'cell.toml'}'" in said
    return folder


def test_every_command_runs_on_it(begun: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    cell, cycle, out = str(begun / "cell.toml"), str(begun / "cycle.toml"), str(tmp_path / "out")
    assert main(["check", cell]) == 0
    said = capsys.readouterr().out
    assert "Box 'shelf'" in said and f"armwright targets '{cell}' -o out" in said
    assert "3 of 3 work points served" in ran(capsys, "targets", cell, "-o", out)
    assert "cycle of " in ran(capsys, "cycle", cell, cycle, "-o", out)
    checked = aw.open_result(Path(out) / "drive_check.nc")
    assert float(checked.attrs["weakest_share"]) < 1
    assert "up" in ran(capsys, "stops", cell, "-o", out)


def test_nothing_is_written_over(begun: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (begun / "arm.toml").write_text("mine")
    (begun / "parts.toml").unlink()
    told = refused(capsys, "new", str(begun))
    assert "cell.toml, arm.toml, cycle.toml in it" in told and "nothing is written over" in told
    assert (begun / "arm.toml").read_text() == "mine" and not (begun / "parts.toml").exists()
    (tmp_path / "file").touch()
    refused(capsys, "new", str(tmp_path / "file"))


def test_every_key_is_explained_where_it_stands_first(begun: Path) -> None:
    """By a comment in its line, or by the one above a line that has none of its own; a name needs none."""
    for name in FILES:
        seen, above = {"name"}, False
        for line in (begun / name).read_text(encoding="utf-8").splitlines():
            key = re.match(r"(\w+) = ", line)
            if key is not None and key[1] not in seen:
                assert "#" in line or above, f"{name}: {line}"
                seen.add(key[1])
            above = line.startswith("#")
