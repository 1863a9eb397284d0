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
_LONG = 40  # letters, from which on words are a sentence


def render(document: Document, units: UnitSystem = "si") -> str:
    """The page's text. ``units``: "si", or "us" for inches, pounds and psi, in words, tables and heads alike; pictures
    have been drawn in them before."""
    import jinja2

    shown("m", units)  # refuses unknown units
    environment = jinja2.Environment(
        autoescape=True, undefined=jinja2.StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    environment.filters["words"] = lambda text: in_units(text, units, document.names)
    template = (resources.files("armwright.report") / "templates" / _TEMPLATE).read_text(encoding="utf-8")
    return environment.from_string(template).render(
        document=document,
        source=_source,
        tall=_is_tall,
        rows=lambda table: _rows(table, units),
        heads=lambda table: [
            {"text": heading(column, units), "number": _is_numbers(table, k)} for k, column in enumerate(table.columns)
        ],
    )


def _source(picture: Picture) -> str:
    return "data:image/png;base64," + base64.b64encode(picture.png).decode("ascii")


def _is_tall(picture: Picture) -> bool:
    """By width and height as PNG tells them (ISO/IEC 15948: in the chunk that comes first)."""
    width, height = (int.from_bytes(picture.png[at : at + 4], "big") for at in (16, 20))
    return height > 1.1 * width


def _is_numbers(table: Table, k: int) -> bool:
    """A column in which numbers stand, and words only in their place."""
    column = table.columns[k]
    if column.unit is not None or column.percent:
        return True
    return any(isinstance(row[k], Quantity) for row in table.rows)


def _rows(table: Table, units: UnitSystem) -> list[list[dict[str, Any]]]:
    shown_rows = table.rows[: table.shown] if table.shown else table.rows
    kinds = [
        "number" if _is_numbers(table, k) else "long" if _is_long(table, k) else "" for k in range(len(table.columns))
    ]
    return [
        [_entry(entry, column, kind, units) for entry, column, kind in zip(row, table.columns, kinds, strict=True)]
        for row in shown_rows
    ]


def _is_long(table: Table, k: int) -> bool:
    """A column of sentences."""
    return any(isinstance(entry, str) and len(entry) > _LONG for entry in (row[k] for row in table.rows))


def _entry(entry: Entry, column: Column, kind: str, units: UnitSystem) -> dict[str, Any]:
    if isinstance(entry, Verdict):
        kind = "good" if entry.good else "bad"
    words = isinstance(entry, str)
    return {
        "text": told(entry, column, units),
        "sentence": words,
        "kind": "" if words and kind == "number" else kind,
        "note": entry.note if isinstance(entry, Quantity) else "",
    }
