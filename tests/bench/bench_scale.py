"""How much faster two cores are than one: threads of the core, and Dask workers (processes of one thread each).

Here the peer is ourselves on one core, and times are those of the clock, since what counts is when it is done: measure
on an idle machine. The ratio is the efficiency, the rate of two over twice the rate of one; scheduler and driver of
the cluster share the two cores. The results are compared bit by bit.

    PYTHONPATH=python:tests python tests/bench/run_all.py --only scale --write
    PYTHONPATH=python:tests python tests/bench/bench_scale.py           # the plan in docs/scale.md, from that record
"""

from __future__ import annotations

import csv
import logging
import os
import re
import statistics
import time
from collections.abc import Callable
from concurrent.futures import Executor, ThreadPoolExecutor
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
from measure import Row, Size, machine, note

import armwright as aw

PAGE = Path(__file__).resolve().parents[2] / "docs" / "scale.md"
RESULTS = Path(__file__).resolve().parent / "results"
BEGIN, END = "<!-- plan: by tests/bench/bench_scale.py -->\n", "<!-- end of the plan -->\n"
Study = Callable[..., Any]
THREADS, DASK, POINTS, SOLVE = (
    "reach map, 2 threads of the core",
    "reach map, 2 Dask workers",
    "work points with free spin, 2 threads of the core",
    "all inverse solutions, 2 threads of an executor",
)


def seconds(study: Callable[[], Any]) -> float:
    start = time.perf_counter()
    study()
    return time.perf_counter() - start


def efficiency(
    kernel: str, one_called: str, goal: float, items: int, one: Callable[[], Any], two: Callable[[], Any], repeats: int
) -> Row:
    """``one`` and ``two`` in turns, so that a machine that grows faster or slower meanwhile favours neither."""

    def turn() -> tuple[float, float]:
        first, second, third, last = seconds(one), seconds(two), seconds(two), seconds(one)
        return (first + last) / 2, (second + third) / 2

    times = [turn() for _ in range(repeats)]
    slow, fast = (statistics.median(column) for column in zip(*times, strict=True))
    note(f"{kernel}: {slow:.2f} s on one, {fast:.2f} s on two; load average {os.getloadavg()[0]:.1f}")
    return Row(kernel, one_called, goal, items / fast, items / slow, tuple(a / (2 * b) for a, b in times))


def rows(size: Size) -> list[Row]:
    from bench_reach_map import our_cell

    smoke = size.batch < 5000
    repeats = 1 if smoke else max(3, size.repeats // 3)
    cell, found = our_cell(), []
    asked: dict[str, Any] = {"spacing": 0.4 if smoke else 0.1, "directions": 4 if smoke else 60, "spins": 4}

    def reach(**how: Any) -> Any:
        return cell.reach_map(**asked, **how)

    known = reach(threads=2)
    poses = known["reachable"].size * asked["directions"] * asked["spins"]
    found.append(
        efficiency(THREADS, "1 thread", 0.9, poses, lambda: reach(threads=1), lambda: reach(threads=2), repeats)
    )
    found.append(on_dask(reach, known, poses, repeats))
    points = targets(known, 20 if smoke else 1500)
    found.append(
        efficiency(
            POINTS, "1 thread", 0.9, len(points), lambda: cell.check_targets(points, threads=1),
            lambda: cell.check_targets(points, threads=2), repeats,
        )
    )  # fmt: skip
    found.append(solutions(cell, 1000 if smoke else 1_500_000, repeats))
    return found


def on_dask(reach: Study, known: Any, poses: int, repeats: int) -> Row:
    from distributed import Client, LocalCluster

    logging.getLogger("distributed").setLevel(logging.WARNING)

    def started(workers: int) -> Client:
        cluster = LocalCluster(n_workers=workers, threads_per_worker=1, processes=True, dashboard_address=":0")
        return Client(cluster, set_as_default=False)

    with started(1) as first, started(2) as second:
        executors: list[Executor] = [client.get_executor(pure=False) for client in (first, second)]
        for executor in executors:  # imports and the cell are there from here on
            assert all(reach(executor=executor)[name].equals(known[name]) for name in known)
        row = efficiency(
            DASK, "1 Dask worker", 0.8, poses, lambda: reach(executor=executors[0]),
            lambda: reach(executor=executors[1]), repeats,
        )  # fmt: skip
        for client in (first, second):
            client.cluster.close()
    return row


def targets(known: Any, count: int) -> list[aw.Target]:
    """Work points where the map says that the tool can be, pointing down, turning freely."""
    places = np.argwhere(known["reachable"].values)
    chosen = places[np.linspace(0, len(places) - 1, count).astype(int)]
    at = [[float(known[axis][i]) for axis, i in zip("xyz", place, strict=True)] for place in chosen]
    return [aw.Target.pointing(position, "down", f"point {i}") for i, position in enumerate(at)]


def solutions(cell: Any, count: int, repeats: int) -> Row:
    q = np.random.default_rng(1).uniform(-2, 2, (count, cell.joint_count))
    poses = cell.tool_pose(q)
    with ThreadPoolExecutor(2) as two:  # what puts the answers together is a third, and has half as much to do
        return efficiency(
            SOLVE, "1 thread", 0.6, count, lambda: cell.solve(poses), lambda: cell.solve(poses, executor=two), repeats
        )


# The plan


class Way(NamedTuple):
    """One way to ask for many target poses."""

    words: str
    kernel: str
    bytes_each: float  # of the answer, a target pose
    bytes_sent: float  # to the worker


ATTITUDES = 240
WAYS = (
    Way(f"`reach_map`, {ATTITUDES} attitudes a position", THREADS, 44 / ATTITUDES, 24 / ATTITUDES),
    Way("`check_targets`, free spin", POINTS, 179, 8),
    Way("`solve`, every solution kept, 6 joints", SOLVE, 8 * (6 * 8 + 2), 128),
)
MANY = 1e9


def measured(folder: Path) -> dict[str, dict[str, str]]:
    """The last record of each kernel."""
    with (folder / "scale.csv").open(encoding="utf-8") as file:
        return {row["kernel"]: row for row in csv.DictReader(file)}


def plan(folder: Path) -> str:
    """The table of the page, from a machine's record."""
    record = measured(folder)
    lines = [
        "| asked as | target poses a second, one core | core hours | pieces of 1 s | answers | sent to workers |",
        "|---|---|---|---|---|---|",
    ]
    for way in WAYS:
        rate = float(record[way.kernel]["peer_per_s"])
        core = MANY / rate
        pieces = max(core, MANY * way.bytes_each / 64e6)
        cells = [way.words, number(rate), number(core / 3600), number(pieces)]
        lines.append("| " + " | ".join([*cells, size_of(MANY * way.bytes_each), size_of(MANY * way.bytes_sent)]) + " |")
    threads, dask = (float(record[kernel]["ratio"]) for kernel in (THREADS, DASK))
    told = record[DASK]
    lines += [
        "",
        f"Measured on {told['date']} on the machine `{folder.name}`. Efficiency from one core to two: "
        f"{100 * threads:.0f} % with the core's threads, {100 * dask:.0f} % with Dask workers.",
    ]
    return "\n".join(lines) + "\n"


def number(value: float) -> str:
    """Two figures are all that a plan is worth."""
    rounded = float(f"{value:.2g}")
    return f"{rounded:,.0f}" if rounded >= 10 else f"{rounded:g}"


def size_of(count: float) -> str:
    for unit, least in (("TB", 1e12), ("GB", 1e9), ("MB", 1e6)):
        if count >= least:
            return f"{number(count / least)} {unit}"
    return f"{number(count / 1e3)} kB"


def with_plan(text: str, table: str) -> str:
    return re.sub(f"{BEGIN}.*{END}", lambda _: f"{BEGIN}{table}{END}", text, flags=re.DOTALL)


def main() -> None:
    PAGE.write_text(with_plan(PAGE.read_text(encoding="utf-8"), plan(RESULTS / machine())), encoding="utf-8")
    note(f"wrote the plan in {PAGE.name}")


if __name__ == "__main__":
    main()
