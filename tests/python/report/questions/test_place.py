"""What the section on the stand says is what placement holds."""

from __future__ import annotations

import numpy as np

import armwright as aw
from armwright.report.questions.place import PLACE
from cases.reported import FAR, NEAR, column, numbers, of, small_cell, table


def test_places_and_points() -> None:
    cell = small_cell()
    fixed = aw.Cell(cell.arm, tool=cell.tool, load=cell.load, targets=cell.targets, name="fixed")
    placed = fixed.placement(x=(-0.5, 0.5), y=(-0.5, 0.5), samples=60)
    section = PLACE.section(of({"placement": placed}))
    rows = table(section, "places")
    assert numbers(rows, "x") == list(placed["place_x"].values)
    assert numbers(rows, "points served") == list(placed["served_count"].values)
    assert np.array_equal(numbers(rows, "worst limit margin"), placed["worst"].values[:, 0], equal_nan=True)
    made = table(section, "placed")
    best = placed.isel(choice=int(placed.attrs["best"]))
    assert column(made, "work point") == [NEAR, FAR]
    assert np.array_equal(numbers(made, "room to joint limits"), best["limit_margin"].values, equal_nan=True)
    assert section.headline.startswith("Best base at (") and section.pictures
