"""What the section on parts says; test_part_page.py looks at every figure of it."""

from __future__ import annotations

from armwright.report.document import Verdict
from armwright.report.questions.parts import PARTS
from cases import sample_results as sample
from cases.reported import column, of, small_results, table


def test_the_weakest_stand_first_and_pictures_with_their_tables() -> None:
    results = small_results()
    section = PARTS.section(of(results, "part_loads", "joint_wrenches", "bearings", "base_loads", "track_loads"))
    drawn = {table.name: [picture.name for picture in table.pictures] for table in section.tables if table.pictures}
    assert drawn == {"parts_bearing": ["joint_wrenches"], "parts_bolt": ["bolts"],
                     "parts_block": ["blocks", "blocks_over_cycle"]}  # fmt: skip
    assert [picture.name for picture in section.pictures] == ["part_loads"]
    assert sum(len(table.rows) for table in section.tables) == results["part_loads"].sizes["figure"]
    assert set(results["part_loads"].attrs["missing"].splitlines()) <= set(section.missing)


def test_less_than_wanted_is_not_good() -> None:
    section = PARTS.section(of({"part_loads": sample.part_loads()}))
    assert section.good is False and section.answers[0].startswith(
        "1 of 4 figures that could be judged are less than wanted"
    )
    assert section.headline == (
        "TOO LITTLE: 1 of 4 safeties of parts; least: bolt 2, safety against proof stress, at rest, 0.80 of 1 wanted; "
        "1 part NOT LOOKED AT."
    )


def test_the_worst_of_a_group_stands_first_and_loads_alone_are_folded_away() -> None:
    section = PARTS.section(of({"part_loads": sample.part_loads()}))
    bearings = table(section, "parts_bearing")
    verdicts = [entry.words if isinstance(entry, Verdict) else "" for entry in column(bearings, "verdict")]
    assert verdicts == sorted(verdicts, key=["NOT LOOKED AT", "good", ""].index) and bearings.first == len(
        [words for words in verdicts if words]
    )
    bolts = table(section, "parts_bolt")
    assert column(bolts, "part") == ["bolt 2", "bolt 1"] and bolts.first == 2


def test_shares_of_drives_that_stand_with_the_moves_are_folded_away() -> None:
    results = small_results()
    alone = table(PARTS.section(of(results, "part_loads")), "parts_drive")
    beside = table(PARTS.section(of(results, "part_loads", "drive_check")), "parts_drive")
    assert alone.first > 0 and beside.first == 0 and alone.rows == beside.rows


def test_kinds_of_parts_alone() -> None:
    section = PARTS.section(of(small_results(), "base_loads"))
    assert section.good is None and section.tables == () and [picture.name for picture in section.pictures] == ["bolts"]


def test_what_was_not_looked_at_is_not_as_wanted() -> None:
    dataset = sample.part_loads()
    dataset["safety"][:] = dataset["safety"].where(dataset["safety"].isnull(), 5.0)
    section = PARTS.section(of({"part_loads": dataset}))
    assert section.good is None and section.headline.endswith("; 1 part NOT LOOKED AT.")
    dataset["safety"][:] = float("nan")
    section = PARTS.section(of({"part_loads": dataset}))
    assert section.good is None and section.headline.startswith("No part could be judged; ")
