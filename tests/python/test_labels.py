from __future__ import annotations

import numpy as np
import pytest

import armwright as aw
from armwright.labels import study_labels
from cases.described import at, facing, positioner


def test_an_arm_that_stands() -> None:
    cell = aw.Cell(positioner(), mount=at((0.3, -0.2, 0.9), facing((0, 1, 0), (0, 0, 1))), name="bench")
    told = study_labels(cell.description)
    assert told["cell_name"] == "bench" and told["base_position"] == pytest.approx([0.3, -0.2, 0.9])
    assert "track_span" not in told


def test_an_arm_on_a_track_stands_where_the_track_takes_it() -> None:
    """The base at both ends, against the tool: it is that much farther along, whatever the arm does."""
    turned = at((1.0, 2.0, 0.5), facing((0, 1, 0), (0, 0, 1)))
    cell = aw.Cell(positioner(), track=aw.Track("x", ("-0.4 m", "1.1 m"), turned))
    told = study_labels(cell.description)
    ends = np.reshape(told["track_span"], (2, 3))
    tools = cell.tool_pose([[end, 0, 0, 0, 0, 0, 0] for end in (-0.4, 1.1)])[:, :3, 3]
    np.testing.assert_allclose(ends[1] - ends[0], tools[1] - tools[0], atol=1e-12)
    np.testing.assert_allclose(ends[1] - ends[0], [0, 1.5, 0], atol=1e-12)
    np.testing.assert_allclose(ends, [[1, 1.6, 0.5], [1, 3.1, 0.5]], atol=1e-12)


def test_assumptions_stand_a_line_each() -> None:
    from cases.moving_cells import moving_cell

    cell = moving_cell()
    assert study_labels(cell.description)["assumptions"].splitlines() == list(cell.assumptions)
    assert "assumptions" not in study_labels(aw.Cell(positioner()).description)
