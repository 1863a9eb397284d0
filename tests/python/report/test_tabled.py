"""Tables from variables: values as they are in the result, units by row, and nothing where nothing is told."""

from __future__ import annotations

import numpy as np
import xarray as xr

from armwright.report.document import Column, Quantity, Table
from armwright.report.tabled import Of, joined, quantity, table


def some() -> xr.Dataset:
    made = xr.Dataset(
        {
            "name": ("row", ["a", "b"]), "length": ("row", [1.5, np.nan], {"units": "m"}),
            "code": ("row", [0, -1], {"units": "1", "flag_meanings": "all_right too_much"}),
            "good": ("row", [True, False]), "none": ("row", [np.nan, np.nan], {"units": "m"}),
            "way": ("row", [0.5, 2.0], {"units": "1"}), "unit": ("row", ["rad", "m"]),
        }
    )  # fmt: skip
    return made


def test_columns_and_entries() -> None:
    columns = (
        Of("name", "name"), Of("length", "length", small=True), Of("none", "nothing"), Of("absent", "not there"),
        Of("code", "code"), Of("good", "good"), Of("way", "way", unit="unit", per="/s"),
        (Column("more", "kg"), [1.0, 2.0]),
    )  # fmt: skip
    made = table(some(), "row", "file", "title", columns, note="note")
    assert [head.words for head in made.columns] == ["name", "length", "code", "good", "way", "more"]
    assert made.columns[1] == Column("length", "m", small=True) and made.columns[4].unit is None
    assert [row[0] for row in made.rows] == ["a", "b"] and made.rows[0][1] == 1.5 and np.isnan(made.rows[1][1])
    assert [row[2:4] for row in made.rows] == [("all right", "yes"), ("", "no")]
    assert made.rows[0][4] == Quantity(np.degrees(0.5), "°/s") and made.rows[1][4] == Quantity(2.0, "m/s")
    assert (made.name, made.title, made.note) == ("file", "title", "note")


def test_quantities() -> None:
    assert quantity(7200.0, "s") == Quantity(2.0, "h") and quantity(60.0, "s") == Quantity(60.0, "s")
    assert quantity(0.5, "1") == Quantity(0.5, "1", percent=True)
    assert quantity(0.5, "m", small=True) == Quantity(0.5, "m", small=True)


def test_joined() -> None:
    one = Table("a", "A", (Column("x"),), (("1",),))
    assert joined(one, [one, one]).rows == (("1",),) * 3
