from __future__ import annotations

import re
from base64 import b64decode

import matplotlib.pyplot as plt
import pytest

import armwright as aw
from armwright import pictures

widgets = pytest.importorskip("ipywidgets", reason="ipywidgets is not installed")


def test_the_answer_follows_its_sliders() -> None:
    box = pictures.live(lambda axis, height: f"{axis + 10 * height:g}", axis=(0, 10, 5), height=(0, 1, 0.5))
    assert [slider.description for slider in box.children[:-1]] == ["axis", "height"]
    assert box.children[-1].value == "<pre>10</pre>"
    box.children[0].value = 2
    assert box.children[-1].value == "<pre>7</pre>"
    box.children[1].value = 1
    assert box.children[-1].value == "<pre>12</pre>"


def test_a_picture_is_shown_with_its_words_and_closed() -> None:
    def drawn(x: float) -> tuple[str, object]:
        _, ax = plt.subplots()
        ax.plot([0, x])
        return f"{x:g} < 9", ax

    plt.close("all")
    box = pictures.live(drawn, x=(0, 8, 1))
    first = box.children[-1].value
    alt, data = re.findall(r'alt="([^"]*)".*base64,([^"]*)"', first)[0]
    assert alt == "1 &lt; 9" and b64decode(data)[:4] == b"\x89PNG" and plt.get_fignums() == []
    box.children[0].value = 8
    assert box.children[-1].value != first


def test_a_refusal_is_told_and_the_next_answer_stands() -> None:
    def box_of(size: float) -> str:
        return repr(aw.Box(size=(size, 1, 1), name="a"))

    box = pictures.live(box_of, size=widgets.FloatSlider(0, min=0, max=2))
    assert "Box.size" in box.children[-1].value
    box.children[0].value = 1
    assert box.children[-1].value.startswith("<pre>Box &#x27;a&#x27;")


@pytest.mark.parametrize("given", [(0, 1), (1, 0, 0.5), (0, 1, 2), (0, 0, 0), ("a", "b", "c"), 3, (0, float("nan"), 0)])
def test_what_is_no_slider_is_refused(given: object) -> None:
    with pytest.raises(aw.InputError, match=r"sliders\.x: got .*expected a widget, or"):
        pictures.live(lambda x: "", x=given)
