"""Drivers and workers killed at random moments, and a disk that is full: the same call goes on to the same bits."""

from __future__ import annotations

import contextlib
import os
import random
import signal
import subprocess
import sys
import time
from concurrent.futures import BrokenExecutor, ProcessPoolExecutor
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.studies import cutting, pieces
from cases.described import track_cell
from cases.in_pieces import assert_same_array, assert_same_bits, dying, squares

ASKED: dict[str, Any] = {"spacing": "150 mm", "directions": 10, "spins": 2}
DRIVER = """
import resource, sys
sys.path[:0] = {paths!r}
import armwright as aw
from armwright.studies import cutting
from concurrent.futures import ProcessPoolExecutor
from cases.described import track_cell
if __name__ == "__main__":
    cutting.piece_seconds = 5.0 if {longest} else 0.05
    cell = track_cell()
    executor = ProcessPoolExecutor(2) if {processes} else None
    if {longest}:
        resource.setrlimit(resource.RLIMIT_FSIZE, ({longest}, resource.RLIM_INFINITY))
    print("ready", flush=True)
    try:
        cell.reach_map(**{asked!r}, store={store!r}, executor=executor)
        print("done", flush=True)
    except aw.InputError as error:
        print(error, flush=True)
"""


@pytest.fixture(scope="module")
def unbroken() -> Any:
    return track_cell().reach_map(**ASKED)


def driver(store: Path, *, processes: bool = False, longest: int = 0) -> subprocess.Popen[str]:
    """A session of its own, so that its workers can be ended with it."""
    paths = [path for path in sys.path if path]
    script = DRIVER.format(paths=paths, processes=processes, longest=longest, asked=ASKED, store=str(store))
    started = subprocess.Popen(
        [sys.executable, "-c", script], stdout=subprocess.PIPE, text=True, start_new_session=True
    )
    assert started.stdout is not None and started.stdout.readline() == "ready\n"
    return started


def end(started: subprocess.Popen[str], group: bool) -> None:
    """kill -9: of the driver, and then of the workers that it left."""
    started.kill()
    started.wait()
    if group:
        with contextlib.suppress(ProcessLookupError):  # it had none yet
            os.killpg(started.pid, signal.SIGKILL)
    assert started.stdout is not None
    started.stdout.close()


def parts(store: Path) -> set[str]:
    return {path.name for path in store.glob("*.nc")}


@pytest.mark.parametrize("processes", [False, True])
def test_a_driver_killed_again_and_again(processes: bool, unbroken: Any, tmp_path: Path) -> None:
    store, draw = tmp_path / "store", random.Random(11 + processes)
    known: set[str] = set()
    for more in (0, draw.randrange(1, 4), draw.randrange(1, 4), draw.randrange(1, 4)):
        started = driver(store, processes=processes)
        while len(parts(store)) < len(known) + more and started.poll() is None:
            time.sleep(0.002)
        time.sleep(draw.uniform(0, 0.1))
        end(started, processes)
        assert started.returncode == -signal.SIGKILL, "it was still at work"
        assert known <= parts(store), "nothing that was done is lost"
        known = parts(store)
    assert len(known) >= 3
    assert_same_bits(unbroken, track_cell().reach_map(**ASKED, store=store))
    assert known <= parts(store)


def test_workers_that_are_killed_are_told_of_and_the_store_goes_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cutting, "piece_seconds", 0.02)
    rows, draw = np.arange(400), random.Random(5)
    lost = 0

    def asked(executor: ProcessPoolExecutor | None, progress: Any = None) -> Any:
        how = pieces.How(executor, tmp_path / "store", None, progress)
        return pieces.run_pieces(
            squares, (1e-3,), rows, study="squares", inputs_digest="0" * 64, request={}, how=how
        )

    for goal in (60, 150, 250):
        with ProcessPoolExecutor(2) as executor:
            def progress(done: int, total: int, goal: int = goal, own: Any = executor) -> None:
                if done >= goal and own._processes:
                    with contextlib.suppress(ProcessLookupError):  # the pool is ending already
                        os.kill(draw.choice(sorted(own._processes)), signal.SIGKILL)

            with pytest.raises(BrokenExecutor, match=r"a worker of the executor is gone .* with \d+ of 400 items done"):
                asked(executor, progress)
            lost += 1
    found = asked(None)
    assert lost == 3
    for name, values in squares()(rows, 1, None).items():
        assert_same_array(found[name], values)


def test_a_piece_that_kills_its_worker_is_not_lost(tmp_path: Path) -> None:
    bomb = tmp_path / "bomb"
    bomb.touch()
    told: dict[str, Any] = {"study": "dying", "inputs_digest": "0" * 64, "request": {}}
    with ProcessPoolExecutor(2) as executor, pytest.raises(BrokenExecutor, match="is gone"):
        pieces.run_pieces(
            dying, (33, str(bomb)), np.arange(60), how=pieces.How(executor, tmp_path / "store"), **told
        )
    with ProcessPoolExecutor(2) as executor:
        found = pieces.run_pieces(
            dying, (33, str(bomb)), np.arange(60), how=pieces.How(executor, tmp_path / "store"), **told
        )
    assert found["row"].tolist() == list(range(60))


def test_a_disk_that_is_full(unbroken: Any, tmp_path: Path) -> None:
    """No file longer than 60 kB may be written: the first, small parts are kept, then the run ends and tells why."""
    store = tmp_path / "store"
    started = driver(store, longest=60_000)
    said, _ = started.communicate(timeout=60)
    assert started.returncode == 0
    assert said.startswith(f"store: got {store}, expected a folder that can be written to, with room (File too large)")
    kept = parts(store)
    assert kept
    assert_same_bits(unbroken, track_cell().reach_map(**ASKED, store=store))
    assert kept <= parts(store)


def test_two_drivers_of_one_store(unbroken: Any, tmp_path: Path) -> None:
    """The second is refused while the first works; it goes on when that one is gone."""
    started = driver(tmp_path / "store")
    until = time.monotonic() + 20
    while not parts(tmp_path / "store") and time.monotonic() < until:
        time.sleep(0.01)
    with pytest.raises(aw.InputError, match=r"^store: got .* expected a folder that no other run is using now"):
        track_cell().reach_map(**ASKED, store=tmp_path / "store")
    end(started, False)
    assert_same_bits(unbroken, track_cell().reach_map(**ASKED, store=tmp_path / "store"))
