"""Every example in a docstring of the package runs, and everything that is public has one.

They share the names that docs/reference/index.md begins with, and work in a folder of their own. What is installed is
what is run: nothing here looks into the source tree for the package.
"""

from __future__ import annotations

import doctest
import pkgutil
import re
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from typing import Any

import matplotlib.pyplot as plt
import pytest

import armwright as aw

INDEX = Path(__file__).parents[2] / "docs" / "reference" / "index.md"
OPTIONS = doctest.NORMALIZE_WHITESPACE | doctest.ELLIPSIS


def examples() -> Iterator[doctest.DocTest]:
    finder = doctest.DocTestFinder()
    for found in pkgutil.walk_packages(aw.__path__, "armwright."):
        if "._core" not in found.name and not found.name.endswith("__main__"):
            yield from (test for test in finder.find(import_module(found.name), globs={}) if test.examples)


@pytest.fixture(scope="module")
def names() -> dict[str, Any]:
    begin = "\n".join(re.findall(r"```pycon\n(.*?)```", INDEX.read_text(encoding="utf-8"), re.DOTALL))
    test = doctest.DocTestParser().get_doctest(begin, {}, "names", str(INDEX), 0)
    assert doctest.DocTestRunner().run(test, clear_globs=False).failed == 0
    return test.globs


@pytest.mark.parametrize("example", sorted(examples(), key=lambda test: test.name), ids=lambda test: test.name)
def test_the_example_runs(
    example: doctest.DocTest, names: dict[str, Any], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    example.globs.update(names)
    result = doctest.DocTestRunner(optionflags=OPTIONS).run(example)
    plt.close("all")
    assert result.attempted and not result.failed
