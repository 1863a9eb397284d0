"""The same bits from any executor, order, cut and store; what is wrong comes through."""

from __future__ import annotations

import multiprocessing
import random
import threading
from collections.abc import Callable
from concurrent.futures import Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.studies import cutting, pieces
from cases import railed_cells as railed
from cases.borne_cells import ball_on_axis, rows_by_hand, slewing
from cases.described import track_cell
from cases.driven_cells import supply
from cases.elastic_arms import elastic_arm
from cases.in_pieces import assert_same_array, assert_same_bits, refusing, squares
from cases.moving_cells import moving_cell
from cases.stopping import braked_cell
from cases.true_cells import POSTURE, serviced_cell, swung_beam, unsure_cell

ROWS = np.arange(3000)
TRACK = track_cell(
    targets=[aw.Target.pointing((0.5, 0.6, 0.3 + 0.02 * i), "down", f"point {i}", tilt=0.3) for i in range(6)]
)
BRAKED = braked_cell()
MOVED = moving_cell()
ELASTIC, SPREAD = elastic_arm(), np.linspace(-1.0, 1.0, 240).reshape(40, 6)
CYCLE = aw.Cycle((aw.JointMove("rack"), aw.PickUp(), aw.JointMove("kiln"), aw.SetDown()))
STUDIES: dict[str, Callable[..., Any]] = {
    "reach_map": lambda **how: TRACK.reach_map("250 mm", directions=4, spins=2, **how),
    "payload_map": lambda **how: TRACK.payload_map("400 mm", directions=4, spins=1, **how),
    "payload_at_speed": lambda **how: BRAKED.payload_at_speed(
        "400 mm", directions=4, spins=1, tool_acceleration=2, **how
    ),
    "check_targets": TRACK.check_targets,
    "track_intervals": TRACK.track_intervals,
    "outlines": lambda **how: TRACK.outlines(spacing="120 mm", directions=10, **how),
    "stop": lambda **how: BRAKED.stop(np.full((2, 3, 6), 0.1), np.full((2, 3, 6), 0.3), **how),
    "a single stop": lambda **how: BRAKED.stop(np.full(6, 0.1), np.full(6, 0.3), **how),
    "stop_table": BRAKED.stop_table,
    "holding": lambda **how: aw.Cell(BRAKED.arm, tool=BRAKED.tool).holding(**how),
    "motion": lambda **how: MOVED.motion(CYCLE, **how),
    "drive_check": lambda **how: MOVED.drive_check(CYCLE, **how),
    "power": lambda **how: MOVED.power(CYCLE, supply(), **how),
    "payload_against_time": lambda **how: MOVED.payload_against_time(CYCLE, slowing=[1.5, 2.0], **how),
    "setpoints": lambda **how: MOVED.setpoints(CYCLE, 100, **how),
    "switches": lambda **how: BRAKED.switches(0.1, np.full(6, 0.05), **how),
    "joint_wrenches": lambda **how: BRAKED.joint_wrenches(rows=BRAKED.load_rows(stops=False), **how),
    "separation": lambda **how: BRAKED.separation("0.3 s", **how),
    "track_loads": lambda **how: railed.swinging(railed.guide()).track_loads(
        rows=railed.rows([[0.5, 0.0], [0.6, 1.0]], [0.2, 1.0], kind="cycle", duty=1.0), **how
    ),
    "bearings": lambda **how: ball_on_axis(slewing()).bearings(rows=rows_by_hand([0, 1, 2], 1.0, duty=1.0), **how),
    "track_worth": lambda **how: TRACK.track_worth([0.5, 1.0], **how),
    "tool_error": lambda **how: unsure_cell().tool_error(np.linspace(-POSTURE, POSTURE, 12), **how),
    "lifting": lambda **how: swung_beam().lifting([0.3], **how),
    "service": lambda **how: serviced_cell().service([POSTURE, 0.5 * POSTURE], samples=60, **how),
    "sag": lambda **how: ELASTIC.sag(SPREAD, **how),
    "sag_over_reach": lambda **how: ELASTIC.sag_over_reach("300 mm", directions=["down", "x"], **how),
    "stiffness": lambda **how: ELASTIC.stiffness(SPREAD, **how),
    "link_stress": lambda **how: ELASTIC.link_stress(rows=ELASTIC.load_rows(stops=False), **how),
    "sweep of a study": lambda **how: TRACK.sweep(
        {"track.stroke": ["0.5 m", "1 m"]}, study="check_targets", options={"margin": "1 mm"}, **how
    ),
}


@pytest.fixture(autouse=True)
def short_pieces(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cutting, "piece_seconds", 0.02)


class Shuffled(Executor):
    """Does what it is given in any order, one at a time, in a thread."""

    def __init__(self, seed: int) -> None:
        self.draw, self.waiting = random.Random(seed), list[tuple[Future[Any], Any, Any]]()
        self.order: list[tuple[int, int]] = []

    def submit(self, function: Any, /, *given: Any, **more: Any) -> Future[Any]:
        future: Future[Any] = Future()
        self.waiting.append((future, function, given))
        threading.Timer(0.001 * self.draw.random(), self.one).start()
        return future

    def one(self) -> None:
        future, function, given = self.waiting.pop(self.draw.randrange(len(self.waiting)))
        if future.set_running_or_notify_cancel():
            future.set_result(function(*given))


def work(prepare: Any, given: tuple[Any, ...], rows: Any = ROWS, **how: Any) -> Any:
    return pieces.run_pieces(
        prepare, given, rows, study="squares", inputs_digest="0" * 64, request={}, how=pieces.How(**how)
    )


def assert_squares(found: Any, rows: Any = ROWS) -> None:
    known = squares()(rows, 1, None)
    assert set(found) == set(known)
    for name, values in known.items():
        assert_same_array(found[name], values)


@pytest.mark.parametrize("study", STUDIES)
def test_threads_and_a_store_change_no_bit_of_a_study(study: str, tmp_path: Path) -> None:
    alone = STUDIES[study]()
    assert_same_bits(alone, STUDIES[study](store=tmp_path / "serial"))
    with ThreadPoolExecutor(3) as executor:
        assert_same_bits(alone, STUDIES[study](executor=executor, store=tmp_path / "threads"))
    names = {entry.name for entry in (tmp_path / "threads").iterdir()}
    assert_same_bits(alone, STUDIES[study](store=tmp_path / "threads"))
    assert {entry.name for entry in (tmp_path / "threads").iterdir()} == names, "nothing was computed again"


@pytest.mark.parametrize("kind", ["fork", "spawn"])
def test_processes_change_no_bit_of_a_study(kind: str) -> None:
    with ProcessPoolExecutor(2, mp_context=multiprocessing.get_context(kind)) as executor:
        for study in ("reach_map", "payload_at_speed", "check_targets", "stop"):
            assert_same_bits(STUDIES[study](), STUDIES[study](executor=executor))


def test_an_arm_whose_tool_has_fewer_freedoms(tmp_path: Path) -> None:
    """Its reach map has two phases, each with its parts."""
    four = aw.Cell(
        aw.ArmDescription(BRAKED.arm.description.joints[:4], BRAKED.arm.description.links[:4], "four axes")
    )
    asked: dict[str, Any] = {"spacing": "300 mm", "directions": 4, "spins": 1}
    with ThreadPoolExecutor(2) as executor:
        assert_same_bits(four.reach_map(**asked), four.reach_map(**asked, executor=executor, store=tmp_path / "s"))
    assert {path.name.split("-")[0] for path in (tmp_path / "s").glob("*.nc")} == {"map", "positions"}


@pytest.mark.parametrize("seed", range(4))
def test_any_order_and_any_cut(seed: int, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    draw, rows = random.Random(seed), ROWS[:60]
    monkeypatch.setattr(cutting, "piece_seconds", 10 ** draw.uniform(-4, -3))
    assert_squares(work(squares, (2e-5,), rows, executor=Shuffled(seed), store=tmp_path / "store"), rows)
    left = sorted((tmp_path / "store").glob("*.nc"))
    assert len(left) > 3
    for path in draw.sample(left, len(left) // 2):
        path.unlink()
    monkeypatch.setattr(cutting, "piece_seconds", 10 ** draw.uniform(-4, -3))
    assert_squares(work(squares, (2e-5,), rows, store=tmp_path / "store"), rows)


def test_one_row_and_none(tmp_path: Path) -> None:
    for rows in (ROWS[:0], ROWS[:1]):
        with ThreadPoolExecutor(1) as executor:
            assert_squares(work(squares, (), rows, executor=executor, store=tmp_path / str(len(rows))), rows)


def test_progress_counts_what_was_done_before(tmp_path: Path) -> None:
    heard: list[tuple[int, int]] = []
    stop_at = 1500

    def progress(done: int, total: int) -> bool:
        heard.append((done, total))
        return done < stop_at

    with pytest.raises(aw.Cancelled), ThreadPoolExecutor(2) as executor:
        work(squares, (1e-5,), store=tmp_path / "store", executor=executor, progress=progress)
    assert [done for done, _ in heard] == sorted(done for done, _ in heard)
    kept = heard[-1][0]
    assert kept >= stop_at and all(total == len(ROWS) for _, total in heard)
    heard.clear()
    stop_at = 10**9
    assert_squares(work(squares, (1e-5,), store=tmp_path / "store", progress=progress))
    assert heard[0] == (kept, len(ROWS)) and heard[-1] == (len(ROWS), len(ROWS))


@pytest.mark.parametrize("store", [False, True])
@pytest.mark.parametrize("kind", ["here", "threads", "processes"])
def test_what_a_piece_raises_comes_through_as_itself(kind: str, store: bool, tmp_path: Path) -> None:
    executors = {"threads": ThreadPoolExecutor, "processes": ProcessPoolExecutor}
    executor = executors[kind](2) if kind in executors else None
    with pytest.raises(aw.InputError, match=r"^joint: got row 777, expected another row$") as told:
        work(refusing, (777,), executor=executor, store=tmp_path / "store" if store else None)
    assert told.value.problems[0].key == "joint"
    if executor:
        executor.shutdown()


@pytest.mark.parametrize("executor", [5, "dask", ThreadPoolExecutor, object()])
def test_what_is_no_executor(executor: Any) -> None:
    with pytest.raises(aw.InputError, match=r"^executor: got .*, expected a concurrent\.futures\.Executor"):
        STUDIES["reach_map"](executor=executor)


@pytest.mark.parametrize("study", ["reach_map", "stop", "outlines"])
def test_wrong_threads_and_stores_are_refused_by_studies(study: str, tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(aw.InputError, match=r"^store: got .*this is a file"):
        STUDIES[study](store=tmp_path / "file")
    with pytest.raises(aw.InputError, match=r"^threads: got 0"):
        STUDIES[study](threads=0, executor=Shuffled(0))


def test_a_store_of_another_request_or_cell(tmp_path: Path) -> None:
    TRACK.reach_map("400 mm", directions=2, spins=1, store=tmp_path / "s")
    with pytest.raises(aw.InputError, match=r"store\.spacing: got 0\.4, expected 0\.5, as is asked now"):
        TRACK.reach_map("500 mm", directions=2, spins=1, store=tmp_path / "s")
    with pytest.raises(aw.InputError, match=r"store\.margin: got 0\.0, expected 0\.01"):
        TRACK.reach_map("400 mm", directions=2, spins=1, margin="1 cm", store=tmp_path / "s")
    with pytest.raises(aw.InputError, match=r'store\.study: got "reach_map", expected "payload_map"'):
        TRACK.payload_map("400 mm", directions=2, spins=1, store=tmp_path / "s")
    with pytest.raises(aw.InputError, match=r"store\.inputs_digest"):
        track_cell().reach_map("400 mm", directions=2, spins=1, store=tmp_path / "s")
