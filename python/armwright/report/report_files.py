"""A report's files in a folder: page, print and tables, all of them or none."""

from __future__ import annotations

import importlib.util
import os
import shutil
import uuid
from collections.abc import Iterator
from pathlib import Path

from armwright.errors import InputError
from armwright.report.document import Document, Picture, Table
from armwright.report.html import render
from armwright.report.pdf import need_pdf, to_pdf
from armwright.report.table_files import sheet_names, write_csv, write_xlsx
from armwright.results.units import UnitSystem
from armwright.results.whole_file import whole_file

PAGE, PRINT, SHEETS, TABLES = "report.html", "report.pdf", "report.xlsx", "tables"


def report_folder(folder: str | os.PathLike[str], *, pdf: bool = True) -> Path:
    """Makes the folder; refuses, before any work, one that cannot be written to, and a PDF that cannot be made."""
    if pdf:
        need_pdf()
    target = Path(folder)
    expected = "a folder that can be made and written to"
    try:
        target.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise InputError.of("folder", str(target), f"{expected} ({error.strerror})") from None
    if not os.access(target, os.W_OK):
        raise InputError.of("folder", str(target), expected)
    return target


def write_report(
    document: Document, folder: str | os.PathLike[str], *, units: UnitSystem = "si", pdf: bool = True
) -> list[Path]:
    """Writes report.html; report.pdf, the same as print; CSV in tables/, a file a table; and report.xlsx, all of them,
    where xlsxwriter is there. Gives their paths. What stood there stays until all are made.

    >>> made = report.document([cell.lifting()])
    >>> report.write_report(made, "lifting", pdf=False)[0].name
    'report.html'
    """
    target = report_folder(folder, pdf=pdf)
    made = target / f".report.{uuid.uuid4().hex}.part"
    try:
        (made / TABLES).mkdir(parents=True)
        tables, sheets = list(all_tables(document)), importlib.util.find_spec("xlsxwriter") is not None
        page = render(document, units, kept=_kept(tables, sheets))
        (made / PAGE).write_text(page, encoding="utf-8")
        names = [PAGE]
        if pdf:
            (made / PRINT).write_bytes(to_pdf(page))
            names.append(PRINT)
        if sheets and tables:
            write_xlsx(tables, made / SHEETS, units=units, names=document.names)
            names.append(SHEETS)
        for table in tables:
            names.append(f"{TABLES}/{table.name}.csv")
            write_csv(table, made / names[-1], units=units, names=document.names)
        (target / TABLES).mkdir(exist_ok=True)
        for name in names:
            (made / name).replace(target / name)
    except OSError as error:
        raise InputError.of("folder", str(target), f"a folder that can be written to ({error})") from error
    finally:
        shutil.rmtree(made, ignore_errors=True)
    return [target / name for name in names]


def _kept(tables: list[Table], sheets: bool) -> dict[str, str]:
    """By the name of a table, where all of it stands."""
    return {
        table.name: f"{TABLES}/{table.name}.csv" + (f" and sheet {sheet} of {SHEETS}" if sheets else "")
        for table, sheet in zip(tables, sheet_names(tables), strict=True)
    }


def write_pictures(document: Document, folder: Path) -> list[Path]:
    """Writes the pictures of a report as PNG; their paths."""
    written = []
    for picture in all_pictures(document):
        written.append(folder / f"{picture.name}.png")
        with whole_file(written[-1]) as part:
            part.write_bytes(picture.png)
    return written


def all_pictures(document: Document) -> Iterator[Picture]:
    """The pictures of a report in their order."""
    for section in document.sections:
        yield from section.pictures
        for table in section.tables:
            yield from table.pictures


def all_tables(document: Document) -> Iterator[Table]:
    """The tables of a report in their order."""
    for section in document.sections:
        yield from section.tables
