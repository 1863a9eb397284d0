# ruff: noqa: E501  messages and tables stand whole
"""The page of what parts bear: every figure of the result stands in it, nothing is fetched, names cannot break it."""

from __future__ import annotations

import re
from pathlib import Path

import lxml.html
import matplotlib.pyplot as plt
import numpy as np
import pytest

from armwright.errors import InputError
from armwright.report import part_page
from armwright.report.part_page import part_text
from cases import sample_results as sample
from cases.laden_cells import laden_cell, sway


def rows_of(text: str) -> list[list[str]]:
    page = lxml.html.fromstring(text)
    return [[" ".join(cell.text_content().split()) for cell in row] for row in page.xpath("//tbody/tr")]


def listed(page: lxml.html.HtmlElement, head: str) -> list[str]:
    """The lines under a heading of the section."""
    return [line.text_content() for line in page.xpath(f"//section/h3[text()='{head}']/following-sibling::ul[1]/li")]


def test_every_figure_has_its_line() -> None:
    rows = rows_of(part_text(sample.part_loads()))
    assert ["axis 1: bearing", "radial load", "100 N", "150 N", "420 N", "", "", "", ""] in rows
    assert ["axis 1: bearing", "static equivalent load", "1000 Nsafety 16", "2000 Nsafety 8", "5000 Nsafety 3.2", "16 000 N", "3",
            "good", "category 0 stop of axis 1, 0.120 s into it"] in rows  # fmt: skip
    assert ["axis 2: bearing", "static equivalent load", "10 Nsafety 900", "20 Nsafety 450", "", "9000 N", "1.5", "NOT LOOKED AT", ""] in rows
    assert ["axis 2: bearing", "radial load", "0 N", "0 N", "12 346 N", "", "", "", ""] in rows
    assert ["bolt 2", "safety against proof stress", "safety 0.8", "safety 1.3", "safety 1.1", "", "1", "TOO LITTLE", "held"] in rows
    assert ["bolt 1", "safety against proof stress", "safety 1.2", "safety 1.3", "safety > 1000", "", "1", "good", "held"] in rows
    assert ["block", "life", "", "20 000 h", "", "", "", "", ""] in rows
    assert len(rows) == sample.part_loads().sizes["figure"]


def test_loads_of_bearings_are_told_as_what_they_are_and_rounding_as_nothing() -> None:
    dataset = sample.part_loads()
    at = int(np.flatnonzero(dataset["quantity"].values == "radial load")[0])
    dataset["value"][at] = [0.0111, 0.2, 1e5]
    text = part_text(dataset)
    assert ["axis 1: bearing", "radial load", "0 N", "0.2 N", "100 000 N", "", "", "", ""] in rows_of(text)
    notes = [note.text_content() for note in lxml.html.fromstring(text).xpath("//section[h2/@id='parts']/p")]
    assert sum("least static safety" in note for note in notes) == 1


def test_a_life_that_is_not_told_is_said_so() -> None:
    dataset = sample.part_loads()
    dataset["value"][7] = np.nan
    assert ["block", "life", "", "none told: see Mind", "", "", "", "", ""] in rows_of(part_text(dataset))


def test_us_units() -> None:
    rows = rows_of(part_text(sample.part_loads(), units="us"))
    assert ["axis 1: bearing", "radial load", "22.5 lbf", "33.7 lbf", "94.4 lbf", "", "", "", ""] in rows
    with pytest.raises(InputError, match="units"):
        part_text(sample.part_loads(), units="imperial")  # type: ignore[arg-type]


def test_the_answer_stands_first() -> None:
    page = lxml.html.fromstring(part_text(sample.part_loads()))
    said = [line.text_content() for line in page.xpath("//div[@class='answer']/p")]
    assert said[0] == ("1 of 4 figures that could be judged are less than wanted: bolt 2 (safety against proof stress, at rest), "
                       "0.80 of 1.")  # fmt: skip
    assert said[1] == "Not looked at, for want of data: axis 2: bearing."
    assert said[2] == "Shortest life of bearings and blocks at 90 %: 20 000 h of this duty (block)."
    assert listed(page, "Not looked at") == ["axis 2: static rating"]
    assert "mind <this> & that" in listed(page, "Mind")
    assert any("kill" in line.text_content() for line in page.xpath("//section[h2/@id='cautions']//li"))


def test_all_good() -> None:
    dataset = sample.part_loads()
    dataset["safety"][:] = np.where(np.isnan(dataset["wanted"]), np.nan, 5.0)[:, None] * dataset["looked_at"]
    dataset["safety"][:] = dataset["safety"].where(dataset["looked_at"])
    page = lxml.html.fromstring(part_text(dataset))
    said = [line.text_content() for line in page.xpath("//div[@class='answer']/p")]
    assert said[0].startswith("All 5 figures that could be judged are as wanted; the weakest: axis 1: bearing (static")
    assert said[1] == "Every part that is told could be judged."


def test_names_are_text_and_nothing_is_fetched() -> None:
    dataset = sample.part_loads()
    bad = '<script src="x">&"'
    dataset["part"][0] = bad
    dataset.attrs["missing"] = f"{bad}\nanother"
    text = part_text(dataset)
    page = lxml.html.fromstring(text)
    assert not page.xpath("//script") and bad in page.text_content()
    sources = page.xpath("//img/@src") + re.findall(r"url\(([^)]*)", text)
    assert sources and all(source.startswith("data:image/png;base64,") for source in sources)
    assert all(image.get("alt") for image in page.xpath("//img"))
    anchors = {link.removeprefix("#") for link in page.xpath("//a/@href")}
    assert anchors <= set(page.xpath("//@id")) and len(page.xpath("//@id")) == len(set(page.xpath("//@id")))


def test_pictures_of_a_cell(tmp_path: Path) -> None:
    cell = laden_cell()
    motion = sway(cell)
    others = [cell.joint_wrenches(motion), cell.bearings(motion), cell.base_loads(motion), cell.track_loads(motion)]
    before = plt.get_fignums()
    target = part_page(cell.part_loads(motion), others, path=tmp_path / "bears.html")
    assert plt.get_fignums() == before
    page = lxml.html.fromstring(target.read_text(encoding="utf-8"))
    assert len(page.xpath("//img")) == 5
    titles = page.xpath("//figure[following-sibling::div[1]//caption[text()='Blocks of the track']]")
    assert len(titles) >= 2
    with pytest.raises(InputError, match="others: got a result of check_targets"):
        part_page(cell.part_loads(motion), [sample.check_targets()], path=target)
    with pytest.raises(InputError, match="a result of part_loads"):
        part_page(others[0], path=target)


def test_a_cell_of_which_nothing_is_told() -> None:
    text = part_text(laden_cell(track=False, told=False).part_loads())
    assert "Nothing was looked at in the cycle." in text and "Not looked at, for want of data: joint 1" in text
