"""A report as one page of HTML that needs nothing beside it, and prints."""

from __future__ import annotations

import base64
from importlib import resources
from typing import Any

from armwright.report.document import Column, Document, Entry, Picture, Quantity, Table, Verdict
from armwright.report.figures import heading, told
from armwright.results.unit_words import in_units
from armwright.results.units import UnitSystem, shown

_TEMPLATE = "report.html"


def render(document: Document, units: UnitSystem = "si") -> str:
    """The page's text. ``units``: "si", or "us" for inches, pounds and psi, in words, tables and heads alike; pictures
    have been drawn in them before."""
    import jinja2

    shown("m", units)  # refuses unknown units
    environment = jinja2.Environment(autoescape=True, undefined=jinja2.StrictUndefined, trim_blocks=True,
                                     lstrip_blocks=True)  # fmt: skip
    environment.filters["words"] = lambda text: in_units(text, units, document.names)
    template = (resources.files("armwright.report") / "templates" / _TEMPLATE).read_text(encoding="utf-8")
    return environment.from_string(template).render(
        document=document, source=_source, heads=lambda table: [(heading(column, units), _is_number(column))
                                                                for column in table.columns],
        rows=lambda table: _rows(table, units),
    )  # fmt: skip


def _source(picture: Picture) -> str:
    return "data:image/png;base64," + base64.b64encode(picture.png).decode("ascii")


def _is_number(column: Column) -> bool:
    return column.unit is not None or column.percent


def _rows(table: Table, units: UnitSystem) -> list[list[dict[str, Any]]]:
    return [
        [_entry(entry, column, units) for entry, column in zip(row, table.columns, strict=True)] for row in table.rows
    ]


def _entry(entry: Entry, column: Column, units: UnitSystem) -> dict[str, Any]:
    kind = ("good" if entry.good else "bad") if isinstance(entry, Verdict) else ""
    is_number = _is_number(column) or isinstance(entry, Quantity)
    return {
        "text": told(entry, column, units), "kind": kind, "number": is_number, "sentence": isinstance(entry, str),
        "note": entry.note if isinstance(entry, Quantity) else "",
    }  # fmt: skip
