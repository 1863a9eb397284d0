"""Pieces of a study on the workers of an executor."""

from __future__ import annotations

import hashlib
import os
import pickle
import threading
import time
import uuid
from collections.abc import Callable
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, CancelledError, Executor, Future, wait
from typing import Any, NamedTuple

from numpy.typing import NDArray

from armwright.errors import InputError
from armwright.studies import run
from armwright.studies.cutting import Compute, Cutter, Task, Whole, go_on
from armwright.studies.run import Arrays

_looked_at = 0.1  # s, between looks at progress and Ctrl-C
_most_ready = 8  # studies that a worker keeps at hand


class _Sent(NamedTuple):
    start: int
    stop: int
    when: float


class Spread:
    """Keeps the workers of an executor busy. A piece is sent with the digest of what it needs; a worker that has not
    got that says so, and the piece is sent again with it."""

    def __init__(self, executor: Executor, task: Task, cutter: Cutter, threads: int):
        self.executor, self.task, self.cutter, self.threads = executor, task, cutter, threads
        self.needs = pickle.dumps((task.prepare, task.given), protocol=pickle.HIGHEST_PROTOCOL)
        self.key = hashlib.sha256(self.needs).hexdigest()
        self.token = uuid.uuid4().hex
        self.running: dict[Future[Any], _Sent] = {}
        # Pieces sent and not back: more, while they come back without having waited for a worker.
        self.most_sent = 2 * (os.cpu_count() or 1)

    def work(self, whole: Whole, take: Callable[[int, int, Arrays], None], report: run.Report | None) -> None:
        _ready[self.key] = self.task.compute  # for threads of this process
        _driving.add(self.token)
        try:
            while self.cutter.gaps or self.running:
                while self.cutter.gaps and len(self.running) < self.most_sent:
                    self.send(*self.cutter.next(self.most_sent // 2))
                done, _ = wait(self.running, timeout=_looked_at, return_when=FIRST_COMPLETED)
                failures = [failure for future in done if (failure := self.take(future, take)) is not None]
                if failures:
                    raise failures[0]
                go_on(report, whole.done, whole.count)
        except (BrokenExecutor, CancelledError) as error:
            for future in [future for future in self.running if future.done()]:
                self.take(future, take)
            raise _gone(error, whole) from error
        finally:
            _driving.discard(self.token)
            _ready.pop(self.key, None)
            for future in self.running:
                future.cancel()

    def send(self, start: int, stop: int, needs: bytes | None = None) -> None:
        rows = self.task.part(start, stop)
        try:
            future = self.executor.submit(_piece, self.token, self.key, needs, rows, self.threads)
        except RuntimeError as error:
            if isinstance(error, BrokenExecutor):
                raise
            raise InputError.of("executor", str(error), "an executor that is not shut down") from error
        self.running[future] = _Sent(start, stop, time.monotonic())

    def take(self, future: Future[Any], take: Callable[[int, int, Arrays], None]) -> Exception | None:
        """What a worker gave back; or what went wrong, so that the others that are done are taken first."""
        start, stop, when = self.running.pop(future)
        try:
            answer = future.result()
        except (Exception, CancelledError) as error:
            return error
        if answer is None:
            self.send(start, stop, self.needs)
            return None
        seconds, arrays = answer
        if time.monotonic() - when < 2 * seconds:
            self.most_sent += 1
        self.cutter.learn(stop - start, seconds, arrays)
        take(start, stop, arrays)
        return None


def _gone(error: Exception, whole: Whole) -> BrokenExecutor:
    """What a piece raised goes on as itself; a worker that is gone cannot tell, so that is done here."""
    kind = type(error) if isinstance(error, BrokenExecutor) else BrokenExecutor
    return kind(
        f"a worker of the executor is gone (killed, or out of memory) with {whole.done:,} of {whole.count:,} items "
        f"done; with store= they are kept, and the same call with a new executor goes on ({error})"
    )


# In the workers

_ready: dict[str, Compute] = {}  # what was prepared here, by digest
_driving: set[str] = set()  # calls whose driver is in this process and wants its pieces still
_preparing = threading.Lock()


def _piece(
    token: str, key: str, needs: bytes | None, rows: NDArray[Any], threads: int
) -> tuple[float, Arrays] | None:
    """Seconds and answers of a piece; None where this process has not got what it needs."""
    compute = _ready.get(key) or (_prepared(key, needs) if needs is not None else None)
    if compute is None:
        return None
    report = (lambda done, total: token in _driving) if token in _driving else None
    begun = time.perf_counter()
    arrays = compute(rows, threads, report)
    return time.perf_counter() - begun, arrays


def _prepared(key: str, needs: bytes) -> Compute:
    with _preparing:  # several threads of a worker wait for the one that does it
        if key not in _ready:
            prepare, given = pickle.loads(needs)
            _ready[key] = prepare(*given)
            while len(_ready) > _most_ready:
                _ready.pop(next(iter(_ready)))
        return _ready[key]
