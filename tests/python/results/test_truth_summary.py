"""The few lines about the tool's error say the study's answers."""

from __future__ import annotations

import numpy as np

from armwright.results import summary
from cases.true_cells import POSTURE, unsure_cell


def test_the_worst_posture_its_causes_and_what_is_missing() -> None:
    found = unsure_cell().tool_error(np.array([0.2 * POSTURE, POSTURE]))
    said = summary(found)
    at = int(np.argmax(found.position_worst.values))
    worst, rss = (1000 * float(found[f"position_{key}"][at]) for key in ("worst", "rss"))
    assert f"tool point off by at least {worst:.3g} mm at worst, {rss:.3g} mm as root sum of squares" in said
    turn = int(np.argmax(found.attitude_worst.values))
    assert f"tool turned by at least {np.degrees(float(found.attitude_worst[turn])):.3g} deg at worst" in said
    shares = found.position_share_worst[at].to_series().sort_values(ascending=False)
    assert f"greatest shares of the worst: {shares.index[0]} {100 * shares.iloc[0]:.0f} %" in said
    assert "not looked at: places told without a tolerance: mount, axis 1, axis 4, axis 5, axis 6, flange" in said


def test_no_postures() -> None:
    assert "no postures" in summary(unsure_cell().tool_error(np.zeros((0, 6))))
