"""A report's files: page, print, workbook and a CSV a table, all or none."""

from __future__ import annotations

import csv
from pathlib import Path

import openpyxl
import pytest

from armwright.errors import InputError
from armwright.report import report_files
from armwright.report.document import Document
from armwright.report.gather import document
from armwright.report.report_files import all_tables, write_report
from cases import sample_results as sample


@pytest.fixture(scope="module")
def made() -> Document:
    return document([sample.check_targets(), sample.part_loads()])


def test_all_are_written(made: Document, tmp_path: Path) -> None:
    pytest.importorskip("weasyprint")
    written = write_report(made, tmp_path / "new" / "folder")
    names = [path.relative_to(tmp_path / "new" / "folder").as_posix() for path in written]
    assert names[:3] == ["report.html", "report.pdf", "report.xlsx"]
    assert names[3:] == [f"tables/{table.name}.csv" for table in all_tables(made)]
    assert all(path.stat().st_size for path in written) and not list((tmp_path / "new" / "folder").glob(".*"))
    book = openpyxl.load_workbook(written[2])
    assert len(book.sheetnames) == len(list(all_tables(made)))
    with written[3].open(encoding="utf-8", newline="") as stream:
        rows = list(csv.reader(stream))
    assert rows[0][0] == "work point" and len(rows) == 1 + sample.check_targets().sizes["target"]


def test_nothing_is_half_written(made: Document, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "report.html").write_text("what stood there", encoding="utf-8")

    def stopped(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(report_files, "write_csv", stopped)
    with pytest.raises(KeyboardInterrupt):
        write_report(made, tmp_path, pdf=False)
    assert [path.name for path in tmp_path.iterdir()] == ["report.html"]
    assert (tmp_path / "report.html").read_text(encoding="utf-8") == "what stood there"


def test_folders_that_cannot_be(made: Document, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    for folder in (tmp_path / "file", tmp_path / "file" / "below"):
        with pytest.raises(InputError, match="a folder that can be made and written to"):
            write_report(made, folder, pdf=False)
