"""What the docs' first pages let a reader type is typed here, and answers as they say."""

from __future__ import annotations

import doctest
import re
import shlex
from pathlib import Path

import pytest

from armwright.cli import main

DOCS = Path(__file__).parents[2] / "docs"


def blocks(page: str, kind: str) -> list[str]:
    return re.findall(rf"```{kind}\n(.*?)```", (DOCS / page).read_text(encoding="utf-8"), re.DOTALL)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for text in blocks("start.md", "toml"):
        (tmp_path / text.split("\n")[0].lstrip("# ")).write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_the_first_answer_is_the_one_that_the_page_promises(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert sorted(path.name for path in folder.iterdir()) == ["arm.toml", "cell.toml"]
    typed = [block.splitlines() for block in blocks("start.md", "console")]
    assert len(typed) == 4
    for command, *promised in typed:
        words = shlex.split(command.removeprefix("$ "))
        assert words[0] == "armwright" and main(words[1:]) == 0, command
        said = capsys.readouterr().out.splitlines()
        assert promised and [line for line in promised if line not in said] == [], "\n".join(said)


@pytest.mark.parametrize("page", ["start.md", "cautions.md", "reference/index.md"])
def test_python_on_a_page_runs(page: str, folder: Path) -> None:
    test = doctest.DocTestParser().get_doctest("\n".join(blocks(page, "pycon")), {}, page, page, 0)
    found = doctest.DocTestRunner(optionflags=doctest.NORMALIZE_WHITESPACE).run(test)
    assert found.attempted and not found.failed
