"""A report in US units has no metric unit left: not in the page, its tables, files, nor in the words of its pictures;
and its numbers are those of the metric one, by the factors of the international yard and pound (1959: 0.3048 m a foot,
0.45359237 kg a pound) and 9.80665 m/s²."""

from __future__ import annotations

import csv
import html
import re
from functools import cache
from pathlib import Path
from typing import Any
from unittest import mock

import lxml.html
import openpyxl
import pytest
from matplotlib.figure import Figure
from matplotlib.text import Text

from armwright.report.document import Document
from armwright.report.gather import document
from armwright.report.report_files import write_report
from cases.reported import FAR, NEAR, driven_results, small_asked, small_cell, small_results

_UNITS = ("mm", "cm", "m", "km", "kg", "g", "N", "kN", "N·m", "N m", "N*m", "Nm", "m/s", "mm/s", "m/s²", "m/s^2",
          "m/s³", "Pa", "kPa", "MPa", "GPa", "mm²", "m²", "m2", "m³", "m3", "N/m", "N/mm", "N·m/rad", "N*m/rad",
          "kg·m²", "kg*m^2", "kg/m³", "°C")  # fmt: skip
_ANY = "|".join(map(re.escape, sorted(_UNITS, key=len, reverse=True)))
METRIC = re.compile(rf"\d[)]?[\s\u202f\u00a0]?(?:{_ANY})(?![\w·²³^*])|[(\[](?:{_ANY})[)\]]")


@cache
def made(units: str) -> tuple[Document, tuple[str, ...]]:
    """A report, and all words that stand in its pictures."""
    words: list[str] = []
    plain: Any = Figure.savefig

    def listening(figure: Figure, *args: Any, **more: Any) -> None:
        figure.draw_without_rendering()  # type: ignore[no-untyped-call]
        words.extend(text.get_text() for text in figure.findobj(Text))  # type: ignore[attr-defined]
        plain(figure, *args, **more)

    results = {**small_results(), "power": driven_results()["power"]}
    scene = small_cell().scene(checked=results["check_targets"])
    with mock.patch.object(Figure, "savefig", listening):
        told = document(results.values(), scene=scene, units=units, absent=small_asked().absent)  # type: ignore[arg-type]
    return told, tuple(words)


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folders = {units: tmp_path_factory.mktemp(units) for units in ("si", "us")}
    for units, folder in folders.items():
        write_report(made(units)[0], folder, units=units, pdf=False)  # type: ignore[arg-type]
    return folders


def page_words(folder: Path) -> list[str]:
    page = lxml.html.fromstring((folder / "report.html").read_text(encoding="utf-8"))
    for style in page.xpath("//style"):
        style.getparent().remove(style)
    alone = [text.strip() for text in page.itertext()]
    return [html.unescape(text) for text in [*alone, *page.xpath("//@alt"), *page.xpath("//@aria-label")] if text]


def file_words(folder: Path) -> list[str]:
    words = []
    for path in sorted((folder / "tables").glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as stream:
            words += [entry for row in csv.reader(stream) for entry in row]
    for sheet in openpyxl.load_workbook(folder / "report.xlsx", read_only=True):
        words += [value for row in sheet.iter_rows(values_only=True) for value in row if isinstance(value, str)]
    return words


def left(words: list[str] | tuple[str, ...]) -> list[str]:
    """Words with a metric unit; names stay as they are."""
    return [text for text in words if METRIC.search(text.replace(NEAR, "").replace(FAR, ""))]


def test_what_is_looked_for_is_found_in_the_metric_report(written: dict[str, Path]) -> None:
    assert len(left(page_words(written["si"]))) > 60 and len(left(file_words(written["si"]))) > 40
    assert len(left(made("si")[1])) > 20
    for text in ("5 mm", "(kg)", "12 N·m", "3.1 m/s²", "0.2 MPa", "at (1, 2) m", "17.1 ± 1.1 m³"):
        assert METRIC.search(text), text
    for text in ("5 min", "(m in all)", "axis 3", "12 lbf·ft", "16 A", "750 W motor", "3 motors", "0.5 s"):
        assert not METRIC.search(text), text


def test_no_metric_unit_is_left(written: dict[str, Path]) -> None:
    assert left(page_words(written["us"])) == []
    assert left(file_words(written["us"])) == []
    assert left(made("us")[1]) == []


@pytest.mark.parametrize(("name", "head", "us_head", "factor"), [
    ("work_points", "holds (kg)", "holds (lb)", 1 / 0.45359237),
    ("work_points", "clearance (mm)", "clearance (in)", 1 / 25.4),
    ("postures", "x (m)", "x (in)", 1 / 0.0254), ("postures", "track (m)", "track (in)", 1 / 0.0254),
    ("postures", "joint 1 (°)", "joint 1 (°)", 1.0), ("masses", "mass (kg)", "mass (lb)", 1 / 0.45359237),
    ("masses", "z (mm)", "z (in)", 1 / 25.4), ("sag", "sinks by (mm)", "sinks by (in)", 1 / 25.4),
    ("stiffness", "along z (N/m)", "along z (lbf/in)", 0.0254 / (0.45359237 * 9.80665)),
    ("track_worth", "force at rest (N)", "force at rest (lbf)", 1 / (0.45359237 * 9.80665)),
    ("track_worth", "moment at rest (N·m)", "moment at rest (lbf·ft)", 1 / (0.45359237 * 9.80665 * 0.3048)),
    ("stops", "its greatest speed (m/s)", "its greatest speed (in/s)", 1 / 0.0254),
    ("stops", "time (s)", "time (s)", 1.0),
])  # fmt: skip
def test_numbers_are_converted(written: dict[str, Path], name: str, head: str, us_head: str, factor: float) -> None:
    def column(units: str, words: str) -> list[float]:
        with (written[units] / "tables" / f"{name}.csv").open(encoding="utf-8", newline="") as stream:
            return [float(row[words]) for row in csv.DictReader(stream) if row[words]]

    metric, us = column("si", head), column("us", us_head)
    assert metric and us == pytest.approx([value * factor for value in metric], rel=1e-9, abs=1e-9)
