"""A cell is asked what it tells enough for; the rest is noted, with what it would need, and nothing is asked twice."""

from __future__ import annotations

import pytest
import xarray as xr

import armwright as aw
from armwright.asked import Asked, ask_all
from armwright.report import question_keys
from armwright.results.variables import STUDIES
from cases.reported import small_asked, small_cell
from cases.stopping import braked_arm


def bare(arm: aw.ArmDescription) -> Asked:
    return Asked(aw.Cell(arm), None, "coarse", {"store": None, "threads": None, "progress": None})


def test_all_that_the_cell_tells_enough_for() -> None:
    made = small_asked()
    assert set(made.results) <= set(STUDIES)
    assert {"check_targets", "payload_map", "drive_check", "holding", "part_loads", "sag", "lifting", "switches",
            "track_worth", "changes"} <= set(made.results)  # fmt: skip
    assert made.absent["supply"] == ["the cell tells no [supply] in its file"]
    assert made.absent["certainty"][0].startswith("uncertainty: tolerances: got none")


def test_an_arm_of_which_nothing_else_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    made = bare(braked_arm())
    monkeypatch.setattr(aw.Cell, "reach_map", lambda *_, **__: pytest.fail("no map is needed for these"))
    ask_all(made, [key for key in question_keys() if key not in ("reach", "hold", "speed", "others")])
    for key, words in (
        ("moves", "no cycle of moves"), ("supply", "no cycle of moves"), ("track", "no [track]"),
        ("changes", "no work points"), ("certainty", "no work points"), ("place", "Cell.placement"),
        ("lifting", "no [[lifting]] eye"), ("lifting", "no [[service]] volume"), ("truth", "the cell has none"),
        ("parts", "no lives"),
    ):  # fmt: skip
        assert any(words in line for line in made.absent[key]), (key, made.absent)


def test_what_is_there_is_not_asked_again() -> None:
    first = small_asked().results
    told = {study: first[study] for study in ("stop_table", "switches", "separation")}
    made = Asked(small_cell(), None, "coarse", {}, dict(told))

    def refuse(*_: object, **__: object) -> xr.Dataset:
        raise AssertionError("asked again")

    made.ask("guarding", "stop_table", refuse)
    ask_all(made, ["guarding"])
    assert made.results == told and made.absent == {}
