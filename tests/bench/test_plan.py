"""The plan in docs/scale.md is what a machine's record says, and the bytes in it are those of the answers."""

from __future__ import annotations

import re
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.studies.piece_store import Store
from cases.stopping import braked_cell

sys.path.insert(0, str(Path(__file__).parent))
import bench_scale

CELL = braked_cell(targets=[aw.Target.pointing((0.5, 0.1 * i, 0.3), "down", f"point {i}") for i in range(3)])
REACH, POINTS, SOLVE = bench_scale.WAYS


def test_the_page_holds_the_plan_of_a_record() -> None:
    text = bench_scale.PAGE.read_text(encoding="utf-8")
    named = re.search("on the machine `([a-z0-9-]+)`", text)
    assert named
    assert bench_scale.with_plan(text, bench_scale.plan(bench_scale.RESULTS / named[1])) == text


def bytes_each(store: Path) -> float:
    kept = list(Store(store).kept("map", 10**9))
    assert kept
    return sum(array.nbytes for _, _, part in kept for array in part.values()) / sum(b - a for a, b, _ in kept)


@pytest.mark.parametrize(
    ("way", "study", "each"),
    [(REACH, lambda **how: CELL.reach_map("500 mm", directions=2, spins=1, **how), bench_scale.ATTITUDES),
     (POINTS, CELL.check_targets, 1),
     (SOLVE, lambda **how: CELL.solve(CELL.tool_pose(np.zeros((4, 6))), **how), 1)],
)  # fmt: skip
def test_bytes_of_an_answer(way: Any, study: Any, each: int, tmp_path: Path) -> None:
    study(store=tmp_path / "store")
    assert bytes_each(tmp_path / "store") == pytest.approx(way.bytes_each * each)
