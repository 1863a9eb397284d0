"""Workers are kept busy, sent what they need once, and told when the driver stops."""

from __future__ import annotations

import multiprocessing
import os
import signal
import subprocess
import sys
import time
from concurrent.futures import Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.studies import cutting, pieces, spread
from cases.in_pieces import assert_same_array, squares, waiting

ROWS = np.arange(3000)


@pytest.fixture(autouse=True)
def short_pieces(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cutting, "piece_seconds", 0.02)


def work(prepare: Any, given: tuple[Any, ...], **how: Any) -> Any:
    return pieces.run_pieces(
        prepare, given, ROWS, study="squares", inputs_digest="0" * 64, request={}, how=pieces.How(**how)
    )


def assert_squares(found: Any) -> None:
    for name, values in squares()(ROWS, 1, None).items():
        assert_same_array(found[name], values)


class Counting(Executor):
    """Passes on to other processes, and counts how often what they need went along."""

    def __init__(self, inner: Executor) -> None:
        self.inner, self.pieces, self.needs = inner, 0, 0

    def submit(self, function: Any, /, *given: Any, **more: Any) -> Future[Any]:
        self.pieces, self.needs = self.pieces + 1, self.needs + (given[2] is not None)
        return self.inner.submit(function, *given)


def test_what_pieces_need_travels_about_once_to_each_worker() -> None:
    with ProcessPoolExecutor(2, mp_context=multiprocessing.get_context("spawn")) as inner:
        first, again = Counting(inner), Counting(inner)
        assert_squares(work(squares, (2e-4,), executor=first))
        assert_squares(work(squares, (2e-4,), executor=again))
    # As many as were sent before the first came back, and a few for a worker that begins late.
    most = 2 * (os.cpu_count() or 1) + 4
    assert first.needs >= 1 and first.needs + again.needs <= most < first.pieces
    assert again.needs <= 2


def test_more_pieces_are_sent_while_workers_would_wait() -> None:
    """Twenty workers, of whose number the driver knows nothing."""
    at_once: list[int] = []
    running: list[None] = []

    class Wide(ThreadPoolExecutor):
        def submit(self, function: Any, /, *given: Any, **more: Any) -> Future[Any]:
            future = super().submit(function, *given)
            running.append(None)
            future.add_done_callback(lambda _: running.pop())
            at_once.append(len(running))
            return future

    with Wide(20) as executor:
        assert_squares(work(squares, (1e-3,), executor=executor))
    assert max(at_once) >= 20


def test_an_executor_that_is_shut_down() -> None:
    for kind in (ThreadPoolExecutor, ProcessPoolExecutor):
        executor = kind(1)
        executor.shutdown()
        with pytest.raises(aw.InputError, match="expected an executor that is not shut down"):
            work(squares, (), executor=executor)


def test_threads_stop_at_once_when_the_driver_does() -> None:
    begun = time.monotonic()
    with pytest.raises(KeyError), ThreadPoolExecutor(2) as executor:
        def fail(done: int, total: int) -> bool:
            if time.monotonic() > begun + 0.3:
                raise KeyError
            return True

        work(waiting, (30.0,), executor=executor, progress=fail)
    assert time.monotonic() - begun < 10.0
    assert not spread._driving


LONG = """
import signal, sys, time
signal.signal(signal.SIGINT, signal.default_int_handler)
sys.path[:0] = {paths!r}
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from cases.described import track_cell
if __name__ == "__main__":
    cell = track_cell()
    print("ready", flush=True)
    try:
        with {executor}(2) as executor:
            cell.reach_map("30 mm", directions=900, spins=8, executor=executor)
    except KeyboardInterrupt:
        print("interrupted", flush=True)
"""


@pytest.mark.parametrize("executor", ["ThreadPoolExecutor", "ProcessPoolExecutor"])
def test_ctrl_c_cancels_what_is_not_begun(executor: str) -> None:
    script = LONG.format(paths=[path for path in sys.path if path], executor=executor)
    with subprocess.Popen([sys.executable, "-c", script], stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        try:
            assert process.stdout.readline() == "ready\n"
            time.sleep(0.7)
            begun = time.monotonic()
            process.send_signal(signal.SIGINT)
            assert process.communicate(timeout=60)[0] == "interrupted\n"
            assert time.monotonic() - begun < 40.0  # pieces in hand are let end
        finally:
            process.kill()
