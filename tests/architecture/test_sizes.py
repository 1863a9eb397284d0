"""Sizes are looked at: a file over 300 lines, a function over 60 lines (a binding over 100), by lizard's count.
Examples in docstrings do not count: they are there to be read and run, and hide nothing.

What is longer may stay, with a reason, in the tables below; a reason whose cause is gone has to go as well.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import lizard

ROOT = Path(__file__).parents[2]
FOLDERS = ("cpp", "python", "tests", "notebooks")
FILE_LINES = 300
FUNCTION_LINES = 60
BINDING_LINES = 100

# path: reason
LONG_FILES: dict[str, str] = {
    "python/bootstrap.sh": "one script that runs before there is anything to import from",
}
# path::function: reason
LONG_FUNCTIONS: dict[str, str] = {}


def source_files(root: Path) -> list[Path]:
    def is_source(path: Path) -> bool:
        parts = path.relative_to(root).parts
        hidden = any(part.startswith(".") or part == "__pycache__" for part in parts)
        return path.suffix in {".cpp", ".hpp", ".py", ".pyi", ".sh"} and not hidden

    return sorted(path for folder in FOLDERS for path in (root / folder).rglob("*") if is_source(path))


def example_lines(path: Path) -> set[int]:
    """Lines of a Python file, from 1, of the examples in docstrings, with the blank line or the quotes about them."""
    found: set[int] = set()
    if path.suffix == ".py":
        inside = False
        lines = path.read_text(encoding="utf-8").splitlines()
        for number, line in enumerate(map(str.strip, lines), start=1):
            begins = line.startswith(">>> ")
            if begins and not inside:
                found |= {number - 1} if not lines[number - 2].strip() else set()
            inside = begins or (inside and bool(line) and not line.endswith('"""'))
            if inside or (number - 1 in found and line == '"""'):
                found.add(number)
    return found


def long_files(root: Path) -> Iterator[tuple[str, int]]:
    for path in source_files(root):
        lines = len(path.read_text(encoding="utf-8").splitlines()) - len(example_lines(path))
        # Stubs are made by a tool from the bindings.
        if lines > FILE_LINES and path.suffix != ".pyi":
            yield path.relative_to(root).as_posix(), lines


def long_functions(root: Path) -> Iterator[tuple[str, int]]:
    for path in source_files(root):
        if path.suffix not in {".cpp", ".hpp", ".py"}:
            continue
        place = path.relative_to(root).as_posix()
        most = BINDING_LINES if place.startswith("cpp/bindings/") else FUNCTION_LINES
        examples = example_lines(path)
        for function in lizard.analyze_file(str(path)).function_list:
            lines = len(set(range(function.start_line, function.end_line + 1)) - examples)
            # lizard takes a Catch2 case, a macro with a name in a string, for a function called TEST_CASE.
            if lines > most:
                yield f"{place}::{function.name}", lines


def complaints(found: Iterator[tuple[str, int]], reasons: dict[str, str]) -> list[str]:
    """What is too long without a reason, and the reasons that nothing needs any more."""
    sizes = dict(found)
    return [f"{name}: {lines} lines" for name, lines in sizes.items() if not reasons.get(name, "").strip()] + [
        f"{name}: is not too long any more, so its reason goes" for name in reasons if name not in sizes
    ]


def test_the_sources_are_read() -> None:
    suffixes = {path.suffix for path in source_files(ROOT)}
    assert {".cpp", ".hpp", ".py", ".sh"} <= suffixes


def test_files_are_short() -> None:
    assert complaints(long_files(ROOT), LONG_FILES) == []


def test_functions_are_short() -> None:
    assert complaints(long_functions(ROOT), LONG_FUNCTIONS) == []


def test_what_is_long_is_found(tmp_path: Path) -> None:
    body = "  x += 1;\n" * 70
    (tmp_path / "cpp" / "bindings").mkdir(parents=True)
    (tmp_path / "python").mkdir()
    (tmp_path / "cpp" / "long.cpp").write_text(f"int f(int x) {{\n{body}  return x;\n}}\n")
    (tmp_path / "cpp" / "bindings" / "bind.cpp").write_text(f"int g(int x) {{\n{body}  return x;\n}}\n")
    (tmp_path / "python" / "long.py").write_text("def h(x):\n" + "    x += 1\n" * 300)
    assert [name for name, _ in long_files(tmp_path)] == ["python/long.py"]
    assert [name for name, _ in long_functions(tmp_path)] == ["cpp/long.cpp::f", "python/long.py::h"]
    assert complaints(long_files(tmp_path), {}) == ["python/long.py: 301 lines"]
    assert complaints(long_files(tmp_path), {"python/long.py": "because"}) == []
    assert complaints(long_files(tmp_path), {"python/long.py": " "}) == ["python/long.py: 301 lines"]
    assert complaints(iter(()), {"python/long.py": "because"}) != []


def test_examples_do_not_count(tmp_path: Path) -> None:
    path = tmp_path / "told.py"
    path.write_text('def f():\n    """Told.\n\n    >>> f()\n    1\n    """\n    return 1\n\n\nx = """\n"""\n')
    assert example_lines(path) == {3, 4, 5, 6}
