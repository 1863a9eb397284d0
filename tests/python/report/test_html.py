"""The page of a report: all that the document holds stands in it once, in either system of units; names cannot break
it."""

from __future__ import annotations

import lxml.html
import pytest

from armwright.errors import InputError
from armwright.report.document import Column, Document, Picture, Quantity, Section, Table, Verdict
from armwright.report.html import render

TABLE = Table(
    "points", "Work points",
    (Column("work point"), Column("served"), Column("holds", "kg", down=True), Column("load"), Column("why")),
    (("shelf <80 mm>", Verdict("yes", True), 7.29, Quantity(100.0, "N", note="safety 3"), ""),
     ("kiln", Verdict("NO", False), float("nan"), None, "out of reach by 254 mm of shelf <80 mm>")),
    "held at 254 mm",
)  # fmt: skip
SECTION = Section(
    "reach", "Does it reach?", ("one of two; shelf <80 mm> by 254 mm",), (Picture("plan", b"png", "the <plan>"),),
    (TABLE,), ("a note of 2.54 m",), ("mass 1 kg assumed",), ("no meshes",), ("keep 254 mm away",),
)  # fmt: skip
DOCUMENT = Document("Is it good?", "cell & arm", ("yes, 254 mm",), (SECTION,), ("the track: no track told",),
                    ("it can kill",), frozenset({"shelf <80 mm>"}), "1.2.3", "abc")  # fmt: skip


def page(units: str) -> lxml.html.HtmlElement:
    return lxml.html.fromstring(render(DOCUMENT, units))  # type: ignore[arg-type]


def rows(tree: lxml.html.HtmlElement) -> list[list[str]]:
    return [[cell.text_content() for cell in row] for row in tree.xpath("//tbody/tr")]


def test_all_stands_in_it() -> None:
    tree = page("si")
    assert rows(tree) == [["shelf <80 mm>", "yes", "7.29", "100 Nsafety 3", ""],
                          ["kiln", "NO", "", "", "out of reach by 254 mm of shelf <80 mm>"]]  # fmt: skip
    assert [head.text for head in tree.xpath("//thead/tr/th")] == ["work point", "served", "holds (kg)", "load", "why"]
    assert tree.xpath("//h1")[0].text == "Is it good?" and "cell & arm" in tree.xpath("//title")[0].text
    said = tree.text_content()
    for words in ("yes, 254 mm", "a note of 2.54 m", "mass 1 kg assumed", "no meshes", "keep 254 mm away",
                  "it can kill", "the track: no track told", "held at 254 mm", "1.2.3", "abc"):  # fmt: skip
        assert said.count(words) == 1
    (image,) = tree.xpath("//figure/img")
    assert image.get("alt") == "the <plan>" and image.get("src") == "data:image/png;base64,cG5n"
    assert [a.get("href") for a in tree.xpath("//nav//a")] == ["#reach", "#not-asked", "#cautions"]
    assert all(tree.xpath(f"//*[@id='{a.get('href')[1:]}']") for a in tree.xpath("//nav//a"))


def test_us_units_everywhere_but_in_names() -> None:
    tree = page("us")
    assert rows(tree) == [["shelf <80 mm>", "yes", "16", "22.5 lbfsafety 3", ""],
                          ["kiln", "NO", "", "", "out of reach by 10 in of shelf <80 mm>"]]  # fmt: skip
    assert tree.xpath("//thead/tr/th")[2].text == "holds (lb)"
    assert "254 mm" not in tree.text_content() and " kg" not in tree.text_content()


def test_nothing_is_fetched() -> None:
    text = render(DOCUMENT)
    assert "http:" not in text and "https:" not in text and "<script" not in text and "default-src 'none'" in text


def test_unknown_units() -> None:
    with pytest.raises(InputError, match='expected "si" or "us"'):
        page("metric")
