"""Studies over many items, in pieces: here with the core's threads, or on the workers of any executor; kept in a
store, or not. The same bits come out of any executor, number of workers, cut and order of pieces, because an item's
answer depends on the item alone."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import Executor
from contextlib import contextmanager
from typing import Any, NamedTuple

from numpy.typing import NDArray

from armwright.errors import InputError
from armwright.studies import run
from armwright.studies.cutting import Compute, Cutter, Task, Whole, go_on
from armwright.studies.piece_store import Store, StorePath, opened_store
from armwright.studies.run import Arrays
from armwright.studies.spread import Spread

__all__ = ["Compute", "How", "Pieces", "run_pieces"]


class Pieces:
    """The work of one call of a study; see ``How.opened``. A study runs one or more phases, each over its items."""

    def __init__(self, executor: Executor | None, store: Store | None, threads: int):
        self._executor, self._store, self._threads = executor, store, threads

    def run(
        self,
        phase: str,
        prepare: Callable[..., Compute],
        given: tuple[Any, ...],
        rows: NDArray[Any],
        report: run.Report | None = None,
    ) -> Arrays:
        """The answers for all items, (count, ...) each.

        ``prepare(*given)`` makes what computes a piece. It is a function of a module, and ``given`` can be pickled: it
        travels once to each worker, and what is prepared stays there. ``rows`` (count, ...): what differs from item to
        item (positions, or just numbers); a piece is sent its own. ``phase``: a word, which names the parts in the
        store.
        """
        count = len(rows)
        compute = prepare(*given)  # here too, so that what is wrong is told before anything is sent
        if count == 0 or (self._executor is None and self._store is None):
            return compute(rows, self._threads, report)
        whole = Whole(count)
        gaps, begin = [], 0
        for start, stop, arrays in self._store.kept(phase, count) if self._store else ():
            gaps.append((begin, start))
            begin = stop
            whole.put(start, stop, arrays)
        cutter = Cutter([*gaps, (begin, count)])
        task = Task(compute, prepare, given, rows)

        def take(start: int, stop: int, arrays: Arrays) -> None:
            whole.put(start, stop, arrays)
            if self._store:
                self._store.keep(phase, start, stop, count, arrays)

        go_on(report, whole.done, count)
        if self._executor is None:
            _in_turn(task, cutter, self._threads, whole, take, report)
        else:
            Spread(self._executor, task, cutter, max(self._threads, 1)).work(whole, take, report)
        return whole.arrays


class How(NamedTuple):
    """How a study is to do its work, as the caller of a study says it."""

    executor: Executor | None = None
    store: StorePath | None = None
    threads: int | None = None
    progress: run.Progress = None

    @contextmanager
    def opened(self, study: str, inputs_digest: str, request: Mapping[str, Any]) -> Iterator[Pieces]:
        """Checks executor, store and threads, and holds the store for as long as the study runs. ``request``:
        everything besides the described inputs that pieces depend on; plain values, arrays and descriptions."""
        executor, count = self.executor, run.threads_of(self.threads)
        if executor is not None and not isinstance(executor, Executor):
            meant = "its get_executor()" if hasattr(executor, "get_executor") else ""
            raise InputError.of(
                "executor", repr(executor), "a concurrent.futures.Executor, or None for the core's own threads", meant
            )
        if self.store is None:
            yield Pieces(executor, None, count)
            return
        with opened_store(self.store, study, inputs_digest, request) as kept:
            yield Pieces(executor, kept, count)


def run_pieces(
    prepare: Callable[..., Compute],
    given: tuple[Any, ...],
    rows: NDArray[Any],
    *,
    study: str,
    inputs_digest: str,
    request: Mapping[str, Any],
    how: How,
) -> Arrays:
    """A study of a single phase: see ``How.opened`` and ``Pieces.run``."""
    with (
        how.opened(study, inputs_digest, request) as work,
        run.reported(how.progress, study.replace("_", " ")) as report,
    ):
        return work.run("map", prepare, given, rows, report)


def _in_turn(
    task: Task,
    cutter: Cutter,
    threads: int,
    whole: Whole,
    take: Callable[[int, int, Arrays], None],
    report: run.Report | None,
) -> None:
    """Piece by piece in this process, each on the core's threads."""
    while cutter.gaps:
        start, stop = cutter.next(1)

        def inner(done: int, total: int, size: int = stop - start) -> bool | None:
            return report(whole.done + size * done // max(total, 1), whole.count) if report else None

        begun = time.perf_counter()
        arrays = task.compute(task.part(start, stop), threads, inner if report else None)
        cutter.learn(stop - start, time.perf_counter() - begun, arrays)
        take(start, stop, arrays)
        go_on(report, whole.done, whole.count)
