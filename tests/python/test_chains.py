from __future__ import annotations

from itertools import pairwise, product

import numpy as np
import pytest

from armwright.chains import choose
from armwright.cycles import goal_of
from armwright.describe import Dwell, JointMove, LineMove
from armwright.errors import InputError
from armwright.postures import Chooser, Step
from cases.moving_cells import moving_cell


def steps(*names: str) -> list[Step]:
    cell = moving_cell()
    return [
        Step("joints", i, name, goal_of(cell, "to", name, "point"), -1, JointMove(name)) for i, name in enumerate(names)
    ]


def cost(chooser: Chooser, chain: list[np.ndarray]) -> float:
    return sum(float(chooser.travel(a[None], b[None], False)[0, 0]) for a, b in pairwise(chain))


@pytest.mark.parametrize("repeats", [True, False])
def test_no_chain_of_postures_is_shorter(repeats: bool) -> None:
    """Against every combination, tried out."""
    cell = moving_cell()
    told = steps("tub", "rack", "tub", "rack")
    found, _ = choose(cell, cell._model, cell._inverse, told, None, repeats, [])
    chooser = Chooser(cell, cell._model, cell._inverse, [])
    sets = [chooser.at(step.goal, (-1,), "to") for step in told]  # type: ignore[arg-type]
    assert all(len(q) > 1 for q in sets)
    if repeats:
        best = min(cost(chooser, [chain[-1], *chain]) for chain in product(*sets))
        assert found[0] == pytest.approx(found[-1])
    else:
        best = min(cost(chooser, [cell._posture(None), *chain]) for chain in product(*sets))
    assert cost(chooser, found) == pytest.approx(best, rel=1e-12)


def test_lines_keep_the_branch_and_dwells_the_posture() -> None:
    cell = moving_cell()
    told = steps("rack")
    line = LineMove("rack", at="approach")
    told += [
        Step("line", 1, "up", goal_of(cell, "to", "rack", "approach"), -1, line),
        Step("dwell", 2, "wait", None, -1, Dwell(1)),
        Step("line", 3, "down", goal_of(cell, "to", "rack", "point"), -1, LineMove("rack")),
    ]
    found, poses = choose(cell, cell._model, cell._inverse, told, None, True, [])
    assert found[0] == pytest.approx(found[4], abs=1e-6) and found[2] == pytest.approx(found[3])
    assert np.abs(found[2] - found[1]).max() < 0.5
    assert cell.tool_pose(found[2]) == pytest.approx(poses[1], abs=1e-9) and poses[0] is None
    assert poses[1][2, 3] == pytest.approx(cell.targets[0].pose[2, 3] + 0.1)


def test_an_open_cycle_is_refused() -> None:
    cell = moving_cell()
    start = goal_of(cell, "start", "tub", "point")
    with pytest.raises(InputError, match=r"^moves: got an end where axis \d is off the start by .* rad"):
        choose(cell, cell._model, cell._inverse, steps("rack"), start, True, [])
    found, _ = choose(cell, cell._model, cell._inverse, steps("rack"), start, False, [])
    assert cell.tool_pose(found[0]) == pytest.approx(cell.targets[1].pose, abs=1e-9)
