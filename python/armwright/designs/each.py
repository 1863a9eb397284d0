"""Many designs, one after the other or by an executor: the one place where that is decided."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from armwright.errors import InputError
from armwright.studies import run

Job = TypeVar("Job")
Result = TypeVar("Result")


def for_each(
    task: Callable[[Job], Result], jobs: Sequence[Job], *, words: str, executor: Any = None,
    progress: run.Progress = None,
) -> list[Result]:  # fmt: skip
    """``task(job)`` of all jobs, in their order. ``executor``: of concurrent.futures, or of its kind (task and jobs go
    to other processes, pickled); None: here, where the core's own threads do the work."""
    if executor is not None and not callable(getattr(executor, "submit", None)):
        raise InputError.of("executor", repr(executor), "an executor, as concurrent.futures has them, or None")
    results: list[Result] = []
    with run.reported(progress, words) as report:
        waiting = [executor.submit(task, job) for job in jobs] if executor is not None else []
        try:
            for i, job in enumerate(jobs):
                results.append(waiting[i].result() if waiting else task(job))
                if report is not None and report(i + 1, len(jobs)) is False:
                    raise run.Cancelled("stopped by its progress callable before the end")
        finally:
            for future in waiting:
                future.cancel()  # of those that have not begun, after an error
    return results
