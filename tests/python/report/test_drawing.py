"""A drawing as ezdxf reads it back: millimetres, layers, words that stand for themselves."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from armwright.report.drawing import Drawing, Layer
from cases.dxf_files import lengths, outlines_on, read_dxf, words

pytest.importorskip("ezdxf")


def drawing(path: Path, **layers: Layer) -> Drawing:
    return Drawing(path, layers, np.zeros(2), np.array([2.0, 1.0]))


def test_lengths_are_in_millimetres(tmp_path: Path) -> None:
    made = drawing(tmp_path / "a.dxf", EDGE=Layer(5))
    square = np.array([[0, 0], [0.5, 0], [0.5, 0.25], [0, 0.25]])
    made.outline(square, "EDGE")
    made.circle(np.array([1.0, 0.5]), 0.1, "EDGE")
    made.dimension(square[0], square[2], 0.1)
    made.dimension(square[0], square[2], -0.1, along="x")
    made.dimension(square[0], square[2], 0.7, along="y")
    space = read_dxf(made.save(tmp_path / "a.dxf"))
    ((points, closed),) = outlines_on(space, "EDGE")
    assert closed and points.tolist() == (1000 * square).tolist()
    circle = space.query("CIRCLE").first
    assert circle.dxf.radius == 100 and tuple(circle.dxf.center)[:2] == (1000, 500)
    assert lengths(space) == pytest.approx([1000 * np.hypot(0.5, 0.25), 500, 250])
    assert {"BASE", "TRACK", "DIMENSIONS", "TEXT", "EDGE"} <= {layer.dxf.name for layer in space.doc.layers}


ODD = ["a\\Pb", "{x}", "^J", "a;b", "<>", "q\"'", "Töpfer 左", "\\", "%", "=1+1", "x" * 300]


@settings(max_examples=4, deadline=None)
@given(st.lists(st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc", "Zl", "Zp"))), max_size=20))
def test_words_of_any_kind(tmp_path_factory: pytest.TempPathFactory, found: list[str]) -> None:
    told = [each for each in found + ODD if "%%" not in each and "\\u+" not in each.lower()]
    path = tmp_path_factory.mktemp("words") / "a.dxf"
    made = drawing(path)
    for each in told:
        made.words(each, np.zeros(2))
        made.paragraph([each, "last"], np.zeros(2))
    lines = words(read_dxf(made.save(path)))
    assert [line.strip() for line in lines[: len(told)]] == [each.strip() for each in told]
    assert [line.strip() for line in lines[len(told) :: 2]] == [each.strip() for each in told]
    assert set(lines[len(told) + 1 :: 2]) == {"last"}


def test_what_would_be_a_code_has_a_space(tmp_path: Path) -> None:
    made = drawing(tmp_path / "a.dxf")
    for each in ("50 %%d", "%%%%c", "\\U+0041", "\\M+18140"):
        made.words(each, np.zeros(2))
    assert words(read_dxf(made.save(tmp_path / "a.dxf"))) == ["50 % %d", "% % % %c", "\\ U+0041", "\\ M+18140"]


def test_control_characters_do_not_break_the_file(tmp_path: Path) -> None:
    made = drawing(tmp_path / "a.dxf")
    made.words("a\nb\x00c\r\u2028d", np.zeros(2))
    made.paragraph(["a\nb\x1b"], np.zeros(2))
    assert words(read_dxf(made.save(tmp_path / "a.dxf"))) == ["a b c  d", "a b "]
