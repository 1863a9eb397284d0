# ruff: noqa: E501  messages and tables stand whole
"""What every part bears, in words: too little is said first, and what was not looked at is never called good."""

from __future__ import annotations

import math

import pytest
import xarray as xr

from armwright.results import summary
from armwright.results.part_summary import Least, least_safeties, where
from cases.sample_results import part_loads


@pytest.mark.parametrize(
    ("safety", "wanted", "words"),
    [(3.0, 1.5, "good"), (1.5, 1.5, "good"), (1.2, 1.5, "LESS THAN WANTED"), (0.99, 1.5, "TOO LITTLE"), (0.5, 0.4, "TOO LITTLE"),
     (math.inf, 1.0, "good"), (math.nan, 1.0, "NOT LOOKED AT"), (2.0, math.nan, ""), (math.nan, math.nan, "")],
)  # fmt: skip
def test_verdicts(safety: float, wanted: float, words: str) -> None:
    assert Least(0, 0, safety, wanted).verdict == words


def least_of(dataset: xr.Dataset, part: str) -> list[str]:
    return [one.verdict for one in least_safeties(dataset) if dataset["part"].values[one.figure] == part]


def test_a_safety_not_known_in_one_situation_is_not_known() -> None:
    dataset = part_loads()
    assert least_of(dataset, "axis 2: bearing") == ["", "NOT LOOKED AT"]  # known at rest, unknown in a stop
    assert least_of(dataset, "axis 1: bearing") == ["", "good"]
    assert least_of(dataset, "track: motor") == ["good"]  # stops are no matter of its own
    assert least_of(dataset, "bolt 2") == ["TOO LITTLE"]


def test_words() -> None:
    dataset = part_loads()
    said = summary(dataset).splitlines()
    assert said[1:6] == [
        "  bearings of the joints: all as wanted; least: axis 1: bearing, static equivalent load: safety 3.2 of 3 wanted: good, "
        "in the worst stop (category 0 stop of axis 1, 0.120 s into it)",
        "  bearings of the joints: NOT LOOKED AT: axis 2: bearing",
        "  bolts of the base: bolt 2, safety against proof stress: safety 0.8 of 1 wanted: TOO LITTLE, at rest (held)",
        "  motors and stages: all as wanted; least: track: motor, peak torque: safety 2 of 1 wanted: good, in the cycle (the cycle, "
        "1.000 s into it)",
        "  4 of 5 figures that have to be judged could be",
    ]  # fmt: skip
    assert "  to mind: a warning" in said and "  not looked at: axis 2: static rating" in said


def test_where() -> None:
    dataset = part_loads()
    told = {str(dataset["part"].values[one.figure]): where(dataset, one) for one in least_safeties(dataset)}
    assert told["bolt 2"] == "held" and told["axis 2: bearing"] == ""
