"""The top level holds what it is to hold, and nothing that a machine made is kept in git."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TOP = {"CMakeLists.txt", "pyproject.toml", "README.md", "DEVELOPERS.md", "cpp", "python", "tests", "notebooks", "docs"}
MADE = {".so", ".pyc", ".o", ".a", ".ipynb", ".nc", ".whl", ".log"}


@pytest.fixture(scope="module")
def files() -> list[str]:
    if not (ROOT / ".git").exists():
        pytest.skip("not a git checkout (an unpacked source distribution)")
    # Files not yet added count as well, so that a stray one is seen before it is committed.
    command = ["git", "-c", "safe.directory=*", "ls-files", "--cached", "--others", "--exclude-standard"]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout.splitlines()


def strangers(files: list[str]) -> set[str]:
    return {name for name in (file.split("/")[0] for file in files) if not name.startswith(".")} ^ TOP


def test_the_top_level_is_the_one_of_the_design(files: list[str]) -> None:
    assert strangers(files) == set()


def test_nothing_made_by_a_machine_is_kept(files: list[str]) -> None:
    assert [file for file in files if Path(file).suffix in MADE] == []


def test_a_stranger_and_a_gap_are_found() -> None:
    whole = [f"{name}/file" for name in TOP]
    assert strangers(whole) == set()
    assert strangers([*whole, ".gitignore", "setup.py"]) == {"setup.py"}
    assert strangers([name for name in whole if not name.startswith("docs")]) == {"docs"}
