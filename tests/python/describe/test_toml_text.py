# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

from pathlib import Path

import pytest

from armwright.describe.toml_text import Lines, key_path, key_text, parse, read_text
from armwright.errors import InputError

TEXT = """\
# words
name = "a"

[[joint]]
range = [
  "-1 deg",
  "1 deg",
]
link = { mass = "1 kg" }

[[joint]]   # second

[joint.link]
mass = "2 kg"
"""


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("name",), 2), (("joint",), 4), (("joint", 0), 4), (("joint", 0, "range"), 5), (("joint", 0, "range", 1), 5),
        (("joint", 0, "link", "mass"), 9), (("joint", 1), 11), (("joint", 1, "link"), 13), (("joint", 1, "link", "mass"), 14),
        (("joint", 1, "nothing"), 11), (("nothing",), None), (("joint", 7), 4), (("name", "x"), 2),
    ],
)  # fmt: skip
def test_lines(path: tuple[str | int, ...], line: int | None) -> None:
    assert Lines(TEXT).find(path) == line


def test_lines_of_a_long_file_and_a_long_list() -> None:
    text = (
        "\n".join(f"[[t]]\nx = {i}" for i in range(300))
        + "\nlong = [\n"
        + "\n".join(f"{i}," for i in range(900))
        + "\n]\nz = 1"
    )
    lines = Lines(text)
    assert lines.find(("t", 250, "x")) == 502
    assert lines.find(("t", 299, "long", 800)) == 601
    assert lines.find(("t", 299, "z")) == 1503


@pytest.mark.parametrize("path", [("a",), ("joint", 2, "range", 0), ("a", "b c", 3)])
def test_keys_and_back(path: tuple[str | int, ...]) -> None:
    assert key_path(key_text(path)) == path


def test_key_text() -> None:
    assert key_text(("joint", 2, "range")) == "joint[2].range"


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("a = \n", 1),
        ("\n\n[a\n", 3),
        ("a = 1\na = 2", 2),
        ('x = "open', 1),
        ("a = " + "[" * 5000, None),
        ("a = " + "9" * 9000, None),
    ],
)
def test_broken_syntax(text: str, line: int | None) -> None:
    with pytest.raises(InputError) as caught:
        parse(text, "arm.toml")
    problem = caught.value.problems[0]
    assert problem.file == "arm.toml"
    assert line is None or problem.line == line


def test_files(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"\xef\xbb\xbfa = 1\r\n")
    assert read_text(tmp_path / "a") == "a = 1\n"
    (tmp_path / "b").write_bytes(b"a = 1\nb = \xff")
    with pytest.raises(InputError, match=r"b:2: file: got bytes that are not UTF-8"):
        read_text(tmp_path / "b")
    for path in (tmp_path / "nothing", tmp_path):
        with pytest.raises(InputError, match="a file that can be read"):
            read_text(path)
    (tmp_path / "c").write_bytes(b"#" * (4 * 1024 * 1024 + 1))
    with pytest.raises(InputError, match="a file of at most"):
        read_text(tmp_path / "c")


def test_one_bracket_where_two_belong() -> None:
    with pytest.raises(InputError) as told:
        parse('[[target]]\nname = "a"\n[target]\nname = "b"\n', "cell.toml")
    assert told.value.problems[0].meant.startswith("[[target]]") and told.value.problems[0].line == 3
    with pytest.raises(InputError) as told:
        parse('[tool]\nname = "a"\n[tool]\nname = "b"\n', "cell.toml")
    assert told.value.problems[0].meant == ""
