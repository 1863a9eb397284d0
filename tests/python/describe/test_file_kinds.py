"""A file that is taken for another is told as what it is, once, and not key by key."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from armwright.describe import load_arm, load_cell, load_cycle, load_parts
from armwright.describe.file_kinds import kind_of_file
from armwright.describe.load import load_targets
from armwright.errors import InputError

FILES = {
    "cell.toml": 'arm = "arm.toml"\nclearance = "1 mm"\n[[target]]\nname = "a"\n',
    "arm.toml": 'parts = "parts.toml"\n[[joint]]\naxis = "z"\n',
    "parts.toml": '[[motor]]\nname = "m"\n',
    "cycle.toml": 'name = "c"\n[[move]]\nkind = "line"\n',
    "targets.toml": '[[target]]\nname = "a"\n',
}
LOADERS: list[tuple[str, str, Callable[[Path], Any]]] = [
    ("cell.toml", "a cell", load_cell), ("arm.toml", "an arm", load_arm), ("parts.toml", "a file of parts", load_parts),
    ("cycle.toml", "a cycle", load_cycle), ("targets.toml", "a file of work points", load_targets),
]  # fmt: skip


@pytest.mark.parametrize(("own", "expected", "loader"), LOADERS)
def test_each_file_taken_for_each_other(tmp_path: Path, own: str, expected: str, loader: Callable[[Path], Any]) -> None:
    kinds = {name: kind for name, kind, _ in LOADERS}
    for name, text in FILES.items():
        (tmp_path / name).write_text(text)
        with pytest.raises(InputError) as told:
            loader(tmp_path / name)
        wrong = f"{tmp_path / name}: file: got {kinds[name]}, expected {expected}"
        assert (str(told.value) == wrong) == (name != own)


def test_what_a_cell_names_is_told_so_too(tmp_path: Path) -> None:
    (tmp_path / "cell.toml").write_text('arm = "cell.toml"\n')
    with pytest.raises(InputError, match=r"file: got a cell, expected an arm$"):
        load_cell(tmp_path / "cell.toml")


def test_what_cannot_be_told_is_told_key_by_key() -> None:
    assert kind_of_file({"name": 1, "target": 2}) == kind_of_file({}) == ""
