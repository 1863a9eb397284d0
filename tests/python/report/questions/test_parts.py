"""What the section on parts says; test_part_page.py looks at every figure of it."""

from __future__ import annotations

from armwright.report.questions.parts import PARTS
from cases import sample_results as sample
from cases.reported import of, small_results


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
    assert section.good is False and section.headline.startswith(
        "1 of 4 figures that could be judged are less than wanted"
    )


def test_kinds_of_parts_alone() -> None:
    section = PARTS.section(of(small_results(), "base_loads"))
    assert section.good is None and section.tables == () and [picture.name for picture in section.pictures] == ["bolts"]
