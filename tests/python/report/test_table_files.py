"""Files of tables, read back by others: the csv module of Python, and openpyxl."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from armwright.report.document import Column, Quantity, Table, Verdict
from armwright.report.table_files import write_csv, write_xlsx

openpyxl = pytest.importorskip("openpyxl")

TABLE = Table(
    "what holds / where: all of it, at length", "What it holds",
    (Column("work point"), Column("served"), Column("holds", "kg", down=True), Column("load", "N"), Column("why")),
    (("=1+1, \"x\"", Verdict("yes", True), 7.29, Quantity(100.0, "N", note="safety 3"), ""),
     ("kiln", Verdict("NO", False), float("nan"), float("inf"), "by 254 mm\nof kiln 80 mm")),
)  # fmt: skip


def test_csv(tmp_path: Path) -> None:
    path = write_csv(TABLE, tmp_path / "a.csv")
    with path.open(encoding="utf-8", newline="") as stream:
        rows = list(csv.reader(stream))
    assert rows == [
        ["work point", "served", "holds (kg)", "load (N)", "why"],
        ['=1+1, "x"', "yes", "7.29", "100 N; safety 3", ""],
        ["kiln", "NO", "", "no limit", "by 254 mm\nof kiln 80 mm"],
    ]


def test_csv_in_us_units(tmp_path: Path) -> None:
    path = write_csv(TABLE, tmp_path / "a.csv", units="us", names=["kiln 80 mm"])
    with path.open(encoding="utf-8", newline="") as stream:
        rows = list(csv.reader(stream))
    assert rows[0][2:4] == ["holds (lb)", "load (lbf)"]
    assert float(rows[1][2]) * 0.45359237 == pytest.approx(7.29, rel=1e-15)
    assert rows[2][4] == "by 10 in\nof kiln 80 mm"


def test_workbook(tmp_path: Path) -> None:
    book = openpyxl.load_workbook(write_xlsx([TABLE, TABLE], tmp_path / "a.xlsx"))
    assert book.sheetnames == ["what holds   where  all of it,", "what holds   where  all of it 2"]
    sheet = book.worksheets[1]
    assert sheet["A1"].value == "What it holds"
    assert [cell.value for cell in sheet[3]] == ["work point", "served", "holds (kg)", "load (N)", "why"]
    assert [cell.value for cell in sheet[4]] == ['=1+1, "x"', "yes", 7.29, "100 N; safety 3", None]
    assert sheet["A4"].data_type == "s" and sheet["C4"].data_type == "n"
    assert [cell.value for cell in sheet[5]] == ["kiln", "NO", None, "no limit", "by 254 mm\nof kiln 80 mm"]
