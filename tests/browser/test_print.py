"""The 3-D page on paper: the picture is shrunk with its names, and what only a screen can use is left out."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from armwright.pictures.page3d.template import render
from cases import sample_results as sample

NAMES = """() => {
  const canvas = document.getElementById("canvas").getBoundingClientRect();
  return [...document.querySelectorAll("#labels span")].filter((each) => each.checkVisibility()).map((each) => {
    const box = each.getBoundingClientRect();
    return [each.textContent, (box.left - canvas.left) / canvas.width, (box.top - canvas.top) / canvas.height];
  });
}"""


@pytest.mark.parametrize("size", [(1280, 800), (390, 800)], ids=["desktop", "phone"])
def test_on_paper_names_stay_where_they_belong(opened: Callable[..., Any], size: tuple[int, int]) -> None:
    page = opened(render(sample.scene()), size=size)
    shown = page.evaluate(NAMES)
    assert len(shown) > 2
    page.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    page.emulate_media(media="print")
    page.set_viewport_size({"width": 718, "height": 1000})  # A4 between its margins
    page.wait_for_timeout(300)
    paper = page.evaluate(NAMES)
    assert [name for name, *_ in paper] == [name for name, *_ in shown]
    for (_, *there), (_, *here) in zip(shown, paper, strict=True):
        assert here == pytest.approx(there, abs=0.02)
    assert page.evaluate("document.getElementById('canvas').getBoundingClientRect().right <= 718")
    assert page.locator("input:visible, #play:visible, [data-look]:visible").count() == 0
    assert page.locator("#targets li:visible").count() == len(sample.scene().targets)
