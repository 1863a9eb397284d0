from __future__ import annotations

from pathlib import Path

import pytest

from cases.command_files import CELL, CYCLE
from cases.description_files import ARM
from cases.drive_files import write_driven


@pytest.fixture(autouse=True)
def _no_window(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MPLBACKEND", "Agg")


@pytest.fixture
def arm_file(tmp_path: Path) -> Path:
    path = tmp_path / "arm.toml"
    path.write_text(ARM, encoding="utf-8")
    return path


@pytest.fixture
def driven(tmp_path: Path) -> Path:
    """A folder with the cell of a driven arm, cell.toml, and a cycle for it, cycle.toml."""
    write_driven(tmp_path)
    (tmp_path / "cell.toml").write_text(CELL, encoding="utf-8")
    (tmp_path / "cycle.toml").write_text(CYCLE, encoding="utf-8")
    return tmp_path
