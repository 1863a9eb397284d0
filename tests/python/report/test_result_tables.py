"""Every number of a result stands in one of its tables, beside the names of its places."""

from __future__ import annotations

import itertools
from importlib.resources import as_file, files

import numpy as np
import pytest
import xarray as xr

import armwright as aw
from armwright.report.document import Table
from armwright.report.figures import heading
from armwright.report.result_tables import tables_of
from armwright.results import make_dataset
from armwright.results.units import shown
from cases import sample_results as sample


def by_name(dataset: xr.Dataset) -> dict[str, Table]:
    return {table.name: table for table in tables_of(dataset)}


def column(table: Table, words: str, unit: str | None = None) -> list[object]:
    places = [k for k, each in enumerate(table.columns) if each.words == words and unit in (None, each.unit)]
    assert len(places) == 1, (words, [each.words for each in table.columns])
    return [row[places[0]] for row in table.rows]


def test_a_row_for_each_combination_of_places() -> None:
    dataset = sample.payload_map(0.5)
    tables = by_name(dataset)
    assert list(tables) == ["x y z", "height distance", "distance", "columns", "about"]
    table = tables["x y z"]
    axes = [dataset[name].values.tolist() for name in "xyz"]
    assert [row[:3] for row in table.rows] == list(itertools.product(*axes))
    np.testing.assert_array_equal(column(table, "mass greatest", "kg"), dataset["mass_greatest"].values.ravel())
    joints = dataset["joint_names"].values[dataset["limiting_joint"].values.ravel()]
    held = dataset["limiting_joint"].values.ravel() >= 0
    told = column(table, "limiting joint")
    assert [each for each, known in zip(told, held, strict=True) if known] == joints[held].tolist()
    assert {each for each, known in zip(told, held, strict=True) if not known} == {""}
    assert set(column(table, "limiting limit")) == {"", "continuous"}


def test_components_are_columns_and_units_of_rows_too() -> None:
    dataset = sample.check_targets()
    tables = by_name(dataset)
    table = tables["target"]
    assert column(table, "target") == list(sample.TARGETS) and column(table, "served")[3:5] == ["yes", "no"]
    for k, word in enumerate("xyz"):
        assert column(table, f"position {word}", "m") == [row[k] for row in sample.TARGETS.values()]
    postures = tables["target joint"]
    slides, turns = column(postures, "q", "m"), column(postures, "q", "rad")
    assert len(slides) == 7 * len(sample.TARGETS)
    q = dataset["q"].values.ravel()
    for row, (slide, turn) in enumerate(zip(slides, turns, strict=True)):
        is_track = column(postures, "joint")[row] == "track"
        assert (turn is None) == is_track and (slide is None) != is_track
        np.testing.assert_equal(slide if is_track else turn, q[row])


@pytest.fixture(scope="module")
def studio() -> tuple[aw.Cell, aw.Cycle]:
    with as_file(files("armwright") / "demo") as folder:
        cell = aw.load_cell(folder / "cell.toml")
        return cell, aw.load_cycle(folder / "cycle.toml", cell)


def test_what_slides_bears_newtons_and_stands_in_a_column_of_its_own(studio: tuple[aw.Cell, aw.Cycle]) -> None:
    """The track slides, the axes turn; of its stages the last one slides. 1 lbf is 4.4482216152605 N (NIST SP 811)."""
    held = studio[0].holding()
    table = by_name(held)["joint"]
    for words in ("torque bound", "brake torque", "brake torque driven back"):
        values = held[words.replace(" ", "_")].values.tolist()
        np.testing.assert_equal(column(table, words, "N")[0], values[0])
        assert column(table, words, "N")[1:] == [None] * 6 and column(table, words, "N*m")[0] is None
        np.testing.assert_equal(column(table, words, "N*m")[1:], values[1:])
    assert column(table, "fall impact speed", "m/s")[1:] == [None] * 6
    head = next(each for each in table.columns if (each.words, each.unit) == ("brake torque", "N"))
    assert heading(head, "us") == "brake torque (lbf)"
    assert shown("N", "us").factor * held.brake_torque.values[0] == pytest.approx(455 / 4.4482216152605)

    driven = studio[0].drive_check(studio[1])
    table = by_name(driven)["joint stage"]
    pushed = [(row[0], row[1]) for row, force in zip(table.rows, column(table, "stage rms torque", "N"), strict=True)
              if force is not None and force > 0]  # fmt: skip
    last = max(s for s, name in enumerate(driven["stage_name"].values[0]) if name)
    assert pushed == [("track", last)]
    assert {each.unit for each in by_name(driven)["joint"].columns if each.words == "motor peak torque"} == {"N*m"}


def test_what_no_number_means_is_said() -> None:
    lower = sample.outlines()
    lower["joint_upper"].values[6] = np.inf
    assert column(by_name(lower)["joint"], "joint upper", "rad")[6] == "no limit is known"
    meanings = by_name(lower)["columns"]
    row = next(row for row in meanings.rows if row[:2] == ("joint", "joint upper"))
    assert row[2:] == ("greatest joint position, in joint_unit", "m", "", "no limit is known")


def test_what_it_is_about() -> None:
    about = by_name(sample.reach_map(0.5))["about"]
    told = {str(row[0]): row[1] for row in about.rows}
    assert told["arm name"] == sample.ARM and told["inputs digest"] == sample.DIGEST
    assert told["reachable volume"].value == 8.214 and told["reachable volume"].unit == "m3"
    assert told["base position 3"].value == 0.0 and "first use" in str(about.rows[-1][1])


def test_postures_of_any_shape_and_none() -> None:
    assert [row[:2] for row in by_name(sample.clearance())["posture posture_2"].rows][:6] == [
        (0, 0), (0, 1), (0, 2), (0, 3), (0, 4), (1, 0)
    ]  # fmt: skip
    none = make_dataset(
        "check_targets",
        {"served": np.zeros(0, bool), "reason": [], "q": np.zeros((0, 7)), "position": np.zeros((0, 3))},
        {"target": [], "joint": sample.JOINTS}, {}, sample.DIGEST, "x")  # fmt: skip
    assert by_name(none)["target"].rows == () and by_name(none)["target"].columns[0].words == "target"


def test_a_result_alone() -> None:
    with pytest.raises(Exception, match="a data set made by armwright"):
        tables_of(xr.Dataset())
