from __future__ import annotations

from typing import Any

import numpy as np

from armwright import _core
from armwright.studies import pieces
from armwright.studies.stop import options_of
from armwright.studies.stop_pieces import load_of, stops_in_pieces
from armwright.studies.subject import Subject
from cases.in_pieces import assert_same_array
from cases.stopping import braked_cell

CELL = braked_cell()
SUBJECT = Subject(CELL.description)
LOAD = _core.model.Inertia(4.0, np.array([0.02, 0.0, 0.15]), np.diag([0.3, 0.2, 0.1]))  # in the last joint frame


def test_a_load_travels_as_numbers() -> None:
    again = _core.model.Inertia(*load_of(LOAD))
    assert again.mass == LOAD.mass == 4
    assert_same_array(np.array(again.centre), np.array(LOAD.centre))
    assert_same_array(np.array(again.tensor), np.array(LOAD.tensor))


def test_each_row_is_the_core_s_stop_with_its_share_of_the_load() -> None:
    rng = np.random.default_rng(4)
    q, v = rng.uniform(-0.8, 0.8, (2, 6, 6))
    share = np.array([0, 0.33, 0.66, 1, 1, 0.5])
    asked: dict[str, Any] = {"category": 1, "deceleration": None, "reaction": 0.05, "time_limit": 5.0}
    with pieces.How().opened("stop", "0" * 64, {}) as work:
        found = stops_in_pieces(work, "map", SUBJECT, LOAD, (q, v, share), asked, None)
    options = options_of(SUBJECT.model, **asked)
    for row in range(6):
        carried = _core.model.Inertia(LOAD.mass * share[row], LOAD.centre, LOAD.tensor * share[row])
        alone = _core.stops.stops(SUBJECT.model, [carried], q[row : row + 1], v[row : row + 1], options)
        assert found.end[row] == alone.end[0] and found.saturated[row] == alone.saturated[0]
        for name in ("q", "travel", "time", "tool_drop", "brake_energy", "stage_torque"):
            assert_same_array(getattr(found, name)[row], getattr(alone, name)[0])
    assert len(set(found.time.tolist())) == 6
