"""A report as one page of HTML that needs nothing beside it, and prints."""

from __future__ import annotations

import base64
from collections.abc import Mapping
from importlib import resources
from typing import Any

from armwright.report.document import Column, Document, Entry, Picture, Quantity, Table, Verdict
from armwright.report.figures import heading, told
from armwright.report.png import DOTS
from armwright.report.widths import Words, widths
from armwright.results.unit_words import in_units
from armwright.results.units import UnitSystem, shown

_TEMPLATE = "report.html"
_LONG = 40  # letters, from which on words are a sentence
_PRINTED = 0.57  # of the size that pictures are drawn in
_FOLDED = 500  # rows that are folded away at most; files have all


def render(document: Document, units: UnitSystem = "si", *, kept: Mapping[str, str] | None = None) -> str:
    """The page's text. ``units``: "si", or "us" for inches, pounds and psi, in words, tables and heads alike; pictures
    have been drawn in them before. ``kept``: by the name of a table, in words, the files in which all of it stands."""
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
        millimetres=_millimetres,
        pieces=lambda table: _pieces(table, units, kept or {}, document),
    )


def _source(picture: Picture) -> str:
    return "data:image/png;base64," + base64.b64encode(picture.png).decode("ascii")


def _millimetres(picture: Picture) -> float:
    """Its width in print, so that the words of all pictures are as large. By its dots as PNG tells them (ISO/IEC 15948:
    in the chunk that comes first)."""
    return round(25.4 * _PRINTED * int.from_bytes(picture.png[16:20], "big") / DOTS, 1)


def _pieces(table: Table, units: UnitSystem, kept: Mapping[str, str], document: Document) -> dict[str, Any]:
    """What a page shows of a table at once, what it folds away, and where all of it stands."""
    first, count = table.first, len(table.rows)
    rows = _rows(table, first + _FOLDED, units, document)
    files = kept.get(table.name, "")
    line = f"{first} of {count} rows" if first else f"{count} rows"
    line += f"; all of them in {files}." if files else "; the page folds them out."
    heads = [
        {"text": heading(column, units), "number": _is_numbers(table, k)} for k, column in enumerate(table.columns)
    ]
    return {
        "heads": heads,
        "widths": _widths(heads, rows[: first or None]),
        "first": rows[:first],
        "folded": rows[first:],
        "line": line,
    }


def _widths(heads: list[dict[str, Any]], rows: list[list[dict[str, Any]]]) -> list[float]:
    """Of the columns in print."""
    columns = []
    for k, head in enumerate(heads):
        entries = [row[k] for row in rows]
        whole = [entry["text"] for entry in entries if entry["kind"] in ("number", "good", "bad")]
        broken = [entry["text"] for entry in entries if entry["kind"] not in ("number", "good", "bad")]
        columns.append(Words(head["text"], whole, [*broken, *(entry["note"] for entry in entries)]))
    return widths(columns)


def _is_numbers(table: Table, k: int) -> bool:
    """A column in which numbers stand, and words only in their place."""
    column = table.columns[k]
    if column.unit is not None or column.percent:
        return True
    return any(isinstance(row[k], Quantity) for row in table.rows)


def _rows(table: Table, most: int, units: UnitSystem, document: Document) -> list[list[dict[str, Any]]]:
    """The first ones, by what all of them are."""
    kinds = [
        "number" if _is_numbers(table, k) else "long" if _is_long(table, k) else "" for k in range(len(table.columns))
    ]
    return [
        [
            _entry(entry, column, kind, units, document)
            for entry, column, kind in zip(row, table.columns, kinds, strict=True)
        ]
        for row in table.rows[:most]
    ]


def _is_long(table: Table, k: int) -> bool:
    """A column of sentences."""
    return any(isinstance(entry, str) and len(entry) > _LONG for entry in (row[k] for row in table.rows))


def _entry(entry: Entry, column: Column, kind: str, units: UnitSystem, document: Document) -> dict[str, Any]:
    if isinstance(entry, Verdict):
        kind = "good" if entry.good else "bad"
    words, text = isinstance(entry, str), told(entry, column, units)
    return {
        "text": in_units(text, units, document.names) if words else text,
        "kind": "" if words and kind == "number" else kind,
        "note": entry.note if isinstance(entry, Quantity) else "",
    }
