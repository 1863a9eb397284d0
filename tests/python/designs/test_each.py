"""One after the other, or by an executor."""

from __future__ import annotations

from concurrent.futures import Future, ThreadPoolExecutor
from typing import Any

import pytest

import armwright as aw
from armwright.designs.each import for_each


def twice(job: int) -> int:
    if job < 0:
        raise aw.InputError.of("job", job, "0 or more")
    return 2 * job


def test_results_come_in_the_order_of_the_jobs() -> None:
    assert for_each(twice, [3, 1, 2], words="x") == [6, 2, 4]
    with ThreadPoolExecutor(3) as threads:
        assert for_each(twice, list(range(50)), words="x", executor=threads) == list(range(0, 100, 2))
    assert for_each(twice, [], words="x") == []


class Lazy:
    """An executor that does nothing until it is asked for the first result, to see what is left undone."""

    def __init__(self) -> None:
        self.futures: list[Future[Any]] = []

    def submit(self, task: Any, job: Any) -> Future[Any]:
        future: Future[Any] = Future()
        if job < 0:
            future.set_exception(aw.InputError.of("job", job, "0 or more"))
        self.futures.append(future)
        return future


def test_after_an_error_what_has_not_begun_is_called_off() -> None:
    lazy = Lazy()
    with pytest.raises(aw.InputError, match="0 or more"):
        for_each(twice, [-1, 1, 2], words="x", executor=lazy)
    assert [future.cancelled() for future in lazy.futures] == [False, True, True]


def test_it_stops_where_it_is_told_to() -> None:
    told: list[int] = []

    def stop(done: int, of: int) -> bool:
        told.append(done)
        return done < 2

    with pytest.raises(aw.Cancelled):
        for_each(twice, [1, 2, 3], words="x", progress=stop)
    assert told == [1, 2]
    with pytest.raises(aw.InputError, match="an executor"):
        for_each(twice, [1], words="x", executor="threads")
