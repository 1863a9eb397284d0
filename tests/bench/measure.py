"""Timing side by side: ours and a peer in turns on the same batch, in one run, one core; answers compared meanwhile.

Times are processor seconds of this process, all its threads together, so that a busy machine and hidden threads count
neither for nor against anybody. Ours is timed from Python, arrays made and all; the peer inside its own C++ loop."""

from __future__ import annotations

import os
import platform
import re
import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path


@dataclass(frozen=True)
class Size:
    """How much to measure."""

    batch: int = 20_000
    repeats: int = 15

    def cut(self, share: float) -> int:
        return max(16, int(self.batch * share))


SMOKE = Size(batch=400, repeats=2)


@dataclass(frozen=True)
class Row:
    """One line of the table: rates in items a second, ratios ours/peer repeat by repeat."""

    kernel: str
    peer: str
    goal: float
    ours: float
    theirs: float
    ratios: tuple[float, ...] = field(repr=False)

    @property
    def ratio(self) -> float:
        return statistics.median(self.ratios)

    @property
    def spread(self) -> tuple[float, float]:
        """The middle half of the repeats."""
        if len(self.ratios) < 4:
            return min(self.ratios), max(self.ratios)
        low, _, high = statistics.quantiles(self.ratios, n=4)
        return low, high


def processor_time(call: Callable[[], object]) -> float:
    start = time.process_time()
    call()
    return time.process_time() - start


def compare(
    kernel: str,
    count: int,
    ours: Callable[[], object],
    peers: dict[str, Callable[[], float]],
    repeats: int,
    goal: float = 2.0,
) -> Row:
    """``ours`` does the batch once; each of ``peers`` does it once and says how many seconds it took. The peer that
    is fastest (by its median) stands in the table: builds with and without the machine's own instructions take
    part."""
    ours()  # caches, pages, lazy imports
    mine: list[float] = []
    their: dict[str, list[float]] = {name: [] for name in peers}
    for _ in range(repeats):
        mine.append(processor_time(ours))
        for name, run in peers.items():
            their[name].append(run())
    best = min(their, key=lambda name: statistics.median(their[name]))
    ratios = tuple(t / m for t, m in zip(their[best], mine, strict=True))
    return Row(kernel, best, goal, count / statistics.median(mine), count / statistics.median(their[best]), ratios)


def rate(value: float) -> str:
    """Items a second, for people."""
    if value >= 1e6:
        return f"{value / 1e6:.2f} M/s"
    return f"{value / 1e3:.3g} k/s" if value >= 1e3 else f"{value:.3g} /s"


def processor() -> str:
    """The processor's name, and how many of it there are."""
    name = platform.processor() or platform.machine()
    info = Path("/proc/cpuinfo")
    if info.exists() and (found := re.search(r"model name\s*:\s*(.+)", info.read_text())):
        name = found.group(1).strip()
    return f"{name}, {os.cpu_count()} cores"


def machine() -> str:
    """A folder's name for this machine: its processor and system, nothing that tells whose it is."""
    return re.sub(r"[^a-z0-9]+", "-", f"{processor()} {platform.system()} {platform.machine()}".lower()).strip("-")


def versions() -> dict[str, str]:
    found = {"python": platform.python_version()}
    for package in ["armwright", "numpy", "pin", "coal", "eaik", "ssik", "toppra"]:
        try:
            found[package] = version(package)
        except PackageNotFoundError:
            found[package] = "source tree" if package == "armwright" else "not installed"
    return found


def table(rows: list[Row]) -> str:
    """Markdown, and readable as it stands."""
    lines = [
        "| kernel | ours, from Python | peer, in C++ | peer | ratio | middle half | goal |",
        "|---|---|---|---|---|---|---|",
    ]
    for row in rows:
        low, high = row.spread
        mark = "" if row.ratio >= row.goal else " (missed)"
        cells = [row.kernel, rate(row.ours), rate(row.theirs), row.peer, f"**{row.ratio:.2f}**"]
        cells += [f"{low:.2f} to {high:.2f}", f"{row.goal:g}{mark}"]
        lines.append("| " + " | ".join(cells) + " |")
    return "\n".join(lines)


def note(text: str) -> None:
    print(text, file=sys.stderr, flush=True)
