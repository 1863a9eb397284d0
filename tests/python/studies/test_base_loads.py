"""The base study as a whole: reactions by kind, and what is missing."""

from __future__ import annotations

import numpy as np

import armwright as aw
from armwright.results import check_dataset
from cases.bases import mind, missing, rows, square, studied


def test_reactions_are_the_extremes_of_each_kind() -> None:
    wrench = np.array([
        [0, 0, -10, 0, 0, 0], [0, 0, -20, 3, 4, 0], [3, 4, -15, 0, 0, -7], [1, 0, -12, 0, 0, 2], [0, 0, 5, 1, 0, 0],
        [0, 0, -14, 0, 6, 0],
    ], float)  # fmt: skip
    result = studied(None, wrench, ("rest", "stop"))
    assert result["kind"].values.tolist() == ["holding", "stopping"]
    force, moment = result["reaction_force"], result["reaction_moment"]
    assert force.sel(kind="holding", extreme="pull").values.tolist() == [0, 0, 5]
    assert force.sel(kind="holding", extreme="push").values.tolist() == [3, 4, -15]
    assert moment.sel(kind="holding", extreme="torsion").values.tolist() == [0, 0, -7]
    assert moment.sel(kind="stopping", extreme="tilting moment").values.tolist() == [0, 6, 0]
    assert force.sel(kind="stopping", extreme="push").values.tolist() == [0, 0, -20]
    assert result["reaction_posture"].sel(kind="stopping", extreme="push").item() == 1
    assert result["reaction_time"].sel(kind="stopping", extreme="push").item() == 0.1
    assert np.isnan(result["reaction_time"].sel(kind="holding", extreme="push"))
    assert "no base is described" in missing(result) and result.sizes["check"] == 0
    check_dataset(result)


def test_what_rows_miss_stands_first_and_nothing_else_is_taken_for_granted() -> None:
    result = studied(aw.Base(), (0, 0, -10, 0, 0, 0), rows=rows(1, missing=("no drives: no stops",)))
    assert missing(result).split("\n")[0] == "no drives: no stops"
    assert "no pattern is told" in missing(result)
    on_track = studied(aw.Base(square()), (0, 0, -10, 0, 0, 0), has_track=True)
    assert "the top of the carriage" in mind(on_track)
    assert "licensed" in result.attrs["caution"]
