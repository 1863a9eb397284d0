from __future__ import annotations

from pathlib import Path

import pytest

from armwright.errors import InputError
from armwright.pictures.page_file import page_path, write_page


def test_whole_or_not_at_all(tmp_path: Path) -> None:
    target = page_path(tmp_path / "a.html")
    assert write_page("one é", target) == target and target.read_text(encoding="utf-8") == "one é"
    (tmp_path / "folder.html").mkdir()
    with pytest.raises(InputError, match="a folder that can be written to"):
        write_page("two", tmp_path / "folder.html")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a.html", "folder.html"]


def test_paths(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r'ends in .html \(did you mean "?a.html'):
        page_path(tmp_path / "a.pdf")
    with pytest.raises(InputError, match="a folder that exists"):
        page_path(tmp_path / "none" / "a.html")
