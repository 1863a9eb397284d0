"""What stood there stays until the new file is whole, and nothing is left behind."""

from __future__ import annotations

from pathlib import Path

import pytest

from armwright.errors import InputError
from armwright.results.whole_file import file_path, whole_file


def test_it_takes_its_place_when_all_is_written(tmp_path: Path) -> None:
    target = tmp_path / "a.csv"
    target.write_text("old")
    with whole_file(target) as part:
        part.write_text("new")
        assert target.read_text() == "old" and part.suffix == ".csv"
    assert target.read_text() == "new" and list(tmp_path.iterdir()) == [target]


@pytest.mark.parametrize(("raised", "seen"), [(OSError("full"), InputError), (KeyboardInterrupt(), KeyboardInterrupt),
                                              (ValueError("odd"), ValueError)])  # fmt: skip
def test_what_ends_the_writing_leaves_the_old_file(tmp_path: Path, raised: BaseException, seen: type) -> None:
    target = tmp_path / "a.csv"
    target.write_text("old")
    with pytest.raises(seen), whole_file(target) as part:
        part.write_text("half")
        raise raised
    assert target.read_text() == "old" and list(tmp_path.iterdir()) == [target]


def test_paths(tmp_path: Path) -> None:
    assert file_path(str(tmp_path / "a.GLB"), ".glb") == tmp_path / "a.GLB"
    with pytest.raises(InputError, match=r'such as "a.nc", not of a folder'):
        file_path(tmp_path, example="a.nc")
    with pytest.raises(InputError, match="the name of a file and not of a folder"):
        file_path(tmp_path)
    with pytest.raises(InputError, match=r"ends in .glb .did you mean .*cell.glb"):
        file_path(tmp_path / "cell.dxf", ".glb", ".gltf")
    with pytest.raises(InputError, match=r"make .*none first"):
        file_path(tmp_path / "none" / "cell.glb")
