"""Studies of many designs in pieces: the same bits on any executor, and from a store after whatever ended a run."""

from __future__ import annotations

import math
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import pytest

import armwright as aw
from armwright.designs.answer import on_threads, threads
from armwright.designs.asking import ask_design
from armwright.studies import cutting
from cases.designs import level_cell
from cases.in_pieces import assert_same_bits

FORE, TORQUE = "arm.links[forearm].mass", "arm.joints[axis 3].torque_continuous"
LENGTH = "arm.links[upper arm].length"
ASKED = [aw.ask.payload("far"), aw.ask.served()]


def sweep(**how: Any) -> Any:
    return level_cell().sweep({FORE: [2.0, 3.0, 4.0], LENGTH: [0.45, 0.6]}, ASKED, **how)


def changes(**how: Any) -> Any:
    return level_cell().changes([FORE, TORQUE, LENGTH], {TORQUE: [56, 57, -1]}, ASKED, **how)


def uncertainty(**how: Any) -> Any:
    return level_cell().uncertainty(ASKED[:1], {FORE: "10 %", LENGTH: "2 mm"}, samples=16, **how)


@pytest.fixture(autouse=True)
def short_pieces(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cutting, "piece_seconds", 0.02)


@pytest.mark.parametrize("study", [sweep, changes, uncertainty])
def test_no_bit_changes(study: Callable[..., Any], tmp_path: Path) -> None:
    here = study()
    with ThreadPoolExecutor(2) as pool:
        assert_same_bits(study(executor=pool), here)
    assert_same_bits(study(store=tmp_path / "store", threads=1), here)
    assert_same_bits(study(store=tmp_path / "store"), here)


def test_processes_change_nothing_either() -> None:
    with ProcessPoolExecutor(1, get_context("spawn")) as pool:
        assert_same_bits(sweep(executor=pool), sweep())
        assert_same_bits(uncertainty(executor=pool), uncertainty())


@pytest.mark.parametrize("study", [sweep, changes, uncertainty])
def test_it_goes_on_from_where_it_was_stopped(study: Callable[..., Any], tmp_path: Path) -> None:
    told: list[int] = []

    def stop(done: int, of: int) -> bool:
        told.append(done)
        return len(told) < 4

    with pytest.raises(aw.Cancelled):
        study(store=tmp_path / "store", progress=stop)
    kept = len(list((tmp_path / "store").glob("*.nc")))
    assert kept >= 1
    assert_same_bits(study(store=tmp_path / "store"), study())
    assert len(list((tmp_path / "store").glob("*.nc"))) > kept


def test_a_store_of_other_designs_is_refused(tmp_path: Path) -> None:
    sweep(store=tmp_path / "store")
    with pytest.raises(aw.InputError, match=r"store\.inputs_digest"):
        level_cell().sweep({FORE: [2.0, 3.5]}, ASKED, store=tmp_path / "store")
    with pytest.raises(aw.InputError, match="store"):
        changes(store=tmp_path / "store")


def test_a_refused_design_has_no_answers() -> None:
    told = ask_design(level_cell().description, {FORE: -1}, ASKED)
    assert all(math.isnan(each.value) and each.reason.startswith(FORE) for each in told)


def test_answers_know_how_many_threads_they_may_take() -> None:
    seen = []
    aw_answer = aw.Answer("threads", "1", lambda cell: seen.append(threads()) or 1.0)  # type: ignore[func-returns-value]
    for count, known in ((1, 1), (0, None)):
        with on_threads(count):
            aw_answer.ask(level_cell())
        assert seen[-1] == known and threads() is None
