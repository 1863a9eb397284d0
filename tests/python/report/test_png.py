"""Pictures as PNG: whole, and no figure stays open."""

from __future__ import annotations

import matplotlib.pyplot as plt

from armwright.report.png import picture


def test_png_of_one_or_several_axes() -> None:
    before = plt.get_fignums()
    for axes in (plt.figure().subplots(), plt.figure().subplots(2, 2), list(plt.figure().subplots(1, 2))):
        made = picture(axes, "name", "words")
        assert made.png.startswith(b"\x89PNG\r\n\x1a\n") and made.png.endswith(b"IEND\xaeB`\x82")
        assert (made.name, made.words) == ("name", "words")
    assert plt.get_fignums() == before
