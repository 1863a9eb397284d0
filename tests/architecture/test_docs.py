"""The pages name what is there: every outside check, and no file that is gone."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
PAGES = ("README.md", "DEVELOPERS.md", "docs/validation.md", "docs/methods.md", "docs/performance.md", "docs/scale.md",
         "docs/index.md", "docs/start.md", "docs/demonstration.md", "docs/limits.md", "docs/cautions.md",
         "docs/exports.md", "docs/reference/index.md")


def lost_files(root: Path, page: str) -> Iterator[str]:
    """Paths that a page names from the top of the repository, or beside itself, and that are not there."""
    text = (root / page).read_text(encoding="utf-8")
    for name in re.findall(r"(?<![\w/.<-])((?:[\w-]+/)*[\w-]+\.(?:md|png|toml|py|sh))\b(?![/*])", text):
        beside = (root / name).exists() or (root / page).parent.joinpath(name).exists()
        somewhere = "/" not in name and any(any((root / top).rglob(name)) for top in ("docs", "python", "tests", "cpp"))
        if not beside and not somewhere:
            yield f"{page}: {name} is not there"


def test_every_outside_check_is_a_line_of_the_validation_page_and_the_reverse() -> None:
    page = (ROOT / "docs" / "validation.md").read_text(encoding="utf-8")
    named = set(re.findall(r"\btest_\w+\.py\b", page))
    assert named == {path.name for path in (ROOT / "tests" / "outside").glob("test_*.py")}


def test_the_pages_name_files_that_are_there() -> None:
    assert [lost for page in PAGES for lost in lost_files(ROOT, page)] == []


def test_a_file_that_is_gone_is_found(tmp_path: Path) -> None:
    (tmp_path / "README.md").write_text("See docs/gone.md and [here](docs/pictures/gone.png); not a.b.c.")
    assert list(lost_files(tmp_path, "README.md")) == [
        "README.md: docs/gone.md is not there", "README.md: docs/pictures/gone.png is not there",
    ]  # fmt: skip
