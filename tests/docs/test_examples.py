"""Every example in a docstring of the package runs, and everything that is public has one.

They share the names that docs/reference/index.md begins with, and work in a folder of their own. What is installed is
what is run: nothing here looks into the source tree for the package.
"""

from __future__ import annotations

import doctest
import inspect
import pkgutil
import re
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from typing import Any

import matplotlib.pyplot as plt
import pytest

import armwright as aw
from armwright import pictures, report, results

INDEX = Path(__file__).parents[2] / "docs" / "reference" / "index.md"
# name: reason
WITHOUT = {"report.setpoints_to_parquet": "as setpoints_to_csv; needs pyarrow, which is not everywhere"}
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


def public() -> Iterator[tuple[str, Any]]:
    """What people call, by its name."""
    rooms = {"armwright": aw, "ask": aw.ask, "pictures": pictures, "report": report, "results": results}
    for room, module in rooms.items():
        yield from ((f"{room}.{name}", getattr(module, name)) for name in module.__all__)
    for owner in (aw.Arm, aw.Cell):
        names = (name for name in dir(owner) if not name.startswith("_"))
        yield from ((f"{owner.__name__}.{name}", getattr(owner, name)) for name in names)


def untold(owner: type) -> Iterator[str]:
    """Arguments that neither their method's docstring names nor, for those of many methods, the class's."""
    shared = set(re.findall(r"``(\w+)``", owner.__doc__ or ""))
    for name, method in inspect.getmembers(owner, inspect.isfunction):
        if not name.startswith("_"):
            told = shared | set(re.findall(r"\w+", (method.__doc__ or "").partition(">>>")[0])) | {"self", "units"}
            yield from (f"{name}({each})" for each in inspect.signature(method).parameters if each not in told)


def test_every_argument_is_told() -> None:
    class Sample:
        """With ``q``."""

        def method(self, q: int, other: int) -> None:
            """Tells of neither."""

    assert list(untold(Sample)) == ["method(other)"]
    assert list(untold(aw.Cell)) == []
    alone = {"limit", "centre", "executor", "store", "progress"}  # told by Cell, which has them too
    assert [each for each in untold(aw.Arm) if each.partition("(")[2].rstrip(")") not in alone] == []


def test_all_that_is_public_has_an_example() -> None:
    kinds = inspect.isclass, inspect.isfunction, inspect.ismethod
    called = [(name, thing) for name, thing in public() if any(kind(thing) for kind in kinds)]
    without = {name for name, thing in called if ">>> " not in (thing.__doc__ or "")}
    assert len(called) > 200 and without - set(WITHOUT) == set(), sorted(without)
    assert set(WITHOUT) <= without, "a reason whose cause is gone has to go as well"
