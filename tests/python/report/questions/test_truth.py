"""What the section on sag and errors says is what sag, tool_error and stiffness hold."""

from __future__ import annotations

import numpy as np

from armwright.report.questions.truth import TRUTH
from cases.reported import FAR, NEAR, column, numbers, of, small_results, table
from cases.true_cells import POSTURE, unsure_cell


def test_sag_causes_and_stiffness() -> None:
    results = small_results()
    section = TRUTH.section(of(results, "sag", "stiffness", "tool_error", "sag_over_reach"))
    sunk, stiff = results["sag"], results["stiffness"]
    rows = table(section, "sag")
    assert column(rows, "work point") == [NEAR, FAR]
    assert np.array_equal(numbers(rows, "sinks by"), sunk["sag_size"].values, equal_nan=True)
    own = np.linalg.norm(sunk["sag_own"].values, axis=-1)
    assert np.allclose(numbers(rows, "by its own weight"), own, equal_nan=True)
    causes = table(section, "sag_causes")
    shares = numbers(causes, "share")
    assert shares == sorted(shares, reverse=True) and np.isclose(sum(shares), 1, atol=0.02) and NEAR in causes.title
    made = table(section, "stiffness")
    assert column(made, "work point") == [NEAR] and numbers(made, "along z") == list(
        stiff["stiffness_along"].values[:, 2]
    )
    assert "sinks by up to" in section.headline and section.good is None


def test_error() -> None:
    off = unsure_cell().tool_error(np.array([POSTURE, 0.5 * POSTURE]))
    section = TRUTH.section(of({"tool_error": off}))
    rows = table(section, "tool_error")
    assert np.array_equal(numbers(rows, "at worst"), off["position_worst"].values)
    assert column(rows, "posture") == ["posture 1", "posture 2"]
    assert numbers(rows, "turned at worst") == list(off["attitude_worst"].values)
    worst = int(off["position_worst"].values.argmax())
    causes = table(section, "error_causes")
    assert numbers(causes, "share")[0] == off["position_share_worst"].values[worst].max()
    assert set(column(causes, "kind")) == {"backlash", "encoder", "placement"} and str(worst + 1) in causes.title
