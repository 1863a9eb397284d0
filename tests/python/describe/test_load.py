from __future__ import annotations

import os
from pathlib import Path

import pytest

from armwright.describe import is_arm_file, load_arm, load_cell
from armwright.errors import InputError
from cases.description_files import ARM, CELL, write_cell


@pytest.mark.parametrize("path", [None, 5, "", "a\0b", b"arm.toml"])
def test_no_paths(path: object) -> None:
    for load in (load_arm, load_cell):
        with pytest.raises(InputError, match=r"^path: "):
            load(path)  # type: ignore[arg-type]


def test_kinds_of_files(tmp_path: Path) -> None:
    write_cell(tmp_path)
    assert load_arm(tmp_path / "arm.toml").source == str(tmp_path / "arm.toml")
    with pytest.raises(InputError, match="only a URDF file's links are chosen by name"):
        load_arm(tmp_path / "arm.toml", base="base")
    with pytest.raises(InputError, match=r"expected an arm file \(.toml\) or a URDF file"):
        load_arm(tmp_path / "arm.step")
    with pytest.raises(InputError, match="expand the macros first"):
        load_arm(tmp_path / "arm.urdf.xacro")
    with pytest.raises(InputError, match=r"^base: got 5, expected the name of a link"):
        load_arm(tmp_path / "arm.urdf", base=5)  # type: ignore[arg-type]
    for name in ("no.toml", "no.urdf"):
        with pytest.raises(InputError, match="a file that can be read"):
            load_arm(tmp_path / name)


def test_the_arm_of_a_cell_may_stand_deeper(tmp_path: Path) -> None:
    (tmp_path / "arms").mkdir()
    (tmp_path / "arms" / "arm.toml").write_text(ARM, encoding="utf-8")
    write_cell(tmp_path, cell=CELL.replace('"arm.toml"', '"arms/arm.toml"'))
    assert load_cell(tmp_path / "cell.toml").arm == load_arm(tmp_path / "arms" / "arm.toml")


@pytest.mark.parametrize("name", ["pipe.toml", "pipe.urdf"])
def test_a_pipe_is_refused_and_not_waited_for(tmp_path: Path, name: str) -> None:
    os.mkfifo(tmp_path / name)
    is_arm_file(tmp_path / name)
    for load in (load_arm, load_cell):
        with pytest.raises(InputError, match="Is a pipe"):
            load(tmp_path / name)


def test_a_cell_file_nested_too_deep_is_no_arm_file(tmp_path: Path) -> None:
    (tmp_path / "deep.toml").write_text("x = " + 100_000 * "[")
    assert not is_arm_file(tmp_path / "deep.toml")
    with pytest.raises(InputError, match="nested too deep"):
        load_cell(tmp_path / "deep.toml")
