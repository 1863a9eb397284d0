"""How time and memory grow with positions, attitudes, fixtures, triangles and joints: docs/pictures/growth.png and
the part "growth" of docs/performance.md.

    PYTHONPATH=python:tests python tests/bench/growth.py --write

One core. Times are the least of a few, in processor time; memory is the greatest that a process of its own held, less
what it held before the study. The slope is that of a straight line through the logarithms: 1 is "twice as many, twice
as long". It is taken over the larger half of the sizes, where what is done once no longer counts."""

from __future__ import annotations

import argparse
import math
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent)]

import numpy as np  # noqa: E402
import pages  # noqa: E402
from bench_reach_map import our_cell  # noqa: E402
from measure import machine, note, processor  # noqa: E402
from shared import loaded  # noqa: E402

import armwright as aw  # noqa: E402
from cases.chain import Array, Chain, Link, pose, rod  # noqa: E402

PICTURE = HERE.parents[1] / "docs" / "pictures" / "growth.png"
ROWS = 4000  # postures of a batch
Call = Callable[[], Any]


def map_of_positions(count: int) -> Call:
    """A cube of 1.6 m in front of the arm."""
    cell, spacing = our_cell(), 1.6 / (round(count ** (1 / 3)) - 1)
    corners = ((0.4, -0.8, 0.1), (2.0, 0.8, 1.7))
    return lambda: cell.reach_map(spacing, bounds=corners, directions=6, spins=1, threads=1)


def map_of_attitudes(count: int) -> Call:
    cell, corners = our_cell(), ((0.4, -0.8, 0.1), (2.0, 0.8, 1.7))
    return lambda: cell.reach_map(0.4, bounds=corners, directions=count, spins=1, threads=1)


def postures(cell: Any) -> Array:
    lower, upper = cell.limits[:2]
    return np.random.default_rng(4).uniform(lower, upper, (ROWS, cell.joint_count))


def hall(count: int) -> tuple[Any, ...]:
    """Boxes spread evenly over a hall that grows with their number, none within arm's reach of the column."""
    rng, side = np.random.default_rng(7), math.sqrt(count / 1.5) + 1.5
    boxes: list[Any] = []
    while len(boxes) < count:
        at = rng.uniform((-side, -side, 0), (side, side, 1.8))
        if math.hypot(at[0] - 1.2, at[1]) > 0.8:
            boxes.append(aw.Box(rng.uniform(0.1, 0.4, 3), pose(at, (0, 0, rng.uniform(0, 3))), f"box {len(boxes) + 1}"))
    return tuple(boxes)


def clear_among(count: int) -> Call:
    cell = our_cell(hall(count))
    q = postures(cell)
    return lambda: cell.is_clear(q, 0.02)


def distance_among(count: int) -> Call:
    cell = our_cell(hall(count))
    q = postures(cell)
    return lambda: cell.clearance(q)


def distance_to_mesh(count: int, rough: float = 0.1) -> Call:
    """A ball, its corners drawn in by up to ``rough`` of its radius; at 0 it is convex."""
    import trimesh

    ball = trimesh.creation.icosphere(round(math.log(count / 20, 4)), 0.4)
    assert len(ball.faces) == count
    corners = np.asarray(ball.vertices) * (1 - np.random.default_rng(3).uniform(0, rough, (len(ball.vertices), 1)))
    cell = our_cell((aw.Mesh((corners, np.asarray(ball.faces)), pose((2.2, 0.3, 0.7))),))
    q = postures(cell)
    return lambda: cell.clearance(q)


def distance_to_convex(count: int) -> Call:
    return distance_to_mesh(count, 0)


def long_arm(joints: int) -> Any:
    links = tuple(
        Link(
            pose((0, 0, 0.3)), (0, 0, 1) if i % 2 else (0, 1, 0), mass=5.0, centre=np.array([0, 0.02, 0.15]),
            inertia=rod(5.0, 0.3),
        )
        for i in range(joints)
    )  # fmt: skip
    return loaded(Chain("long arm", links, pose((0, 0, 0.2))))


def poses_of(joints: int) -> Call:
    arm = long_arm(joints)
    q = np.random.default_rng(2).uniform(-2, 2, (5 * ROWS, joints))
    return lambda: arm.tool_pose(q)


def torques_of(joints: int) -> Call:
    arm = long_arm(joints)
    q = np.random.default_rng(2).uniform(-2, 2, (5 * ROWS, joints))
    return lambda: arm.inverse_dynamics(q, q, q)


def matrices_of(joints: int) -> Call:
    arm = long_arm(joints)
    q = np.random.default_rng(2).uniform(-2, 2, (5 * ROWS, joints))
    return lambda: arm.mass_matrix(q)


@dataclass(frozen=True)
class Growth:
    """One line of a picture: what grows, and the study."""

    panel: str
    name: str
    sizes: tuple[int, ...]
    make: Callable[[int], Call]
    told: str  # what is to be expected, and why
    memory: tuple[int, ...] = ()  # sizes at which memory is measured as well


CUBES = tuple(side**3 for side in (5, 9, 17, 33))
TRIANGLES = (80, 320, 1280, 5120, 20480)
LARGE_CUBES = tuple(side**3 for side in (17, 33, 65, 101))
GROWTHS = (
    Growth("positions", "reach map", CUBES, map_of_positions, "1: every position is asked", LARGE_CUBES),
    Growth(
        "attitudes", "reach map", (6, 24, 96, 384, 1536), map_of_attitudes, "1: every attitude is asked",
        (96, 384, 1536, 6144),
    ),
    Growth("fixtures", "clear or not", (5, 20, 80, 320, 1280), clear_among, "near 0: a tree of fixtures"),
    Growth("fixtures", "least distance", (5, 20, 80, 320, 1280), distance_among, "the same"),
    Growth("triangles", "distance to a rough ball", TRIANGLES, distance_to_mesh, "near 0: a tree of triangles"),
    Growth("triangles", "to a convex ball", TRIANGLES[:4], distance_to_convex, "near 0: corners by directions"),
    Growth("joints", "tool pose", (2, 3, 4, 6, 8, 10, 12), poses_of, "1: joint by joint"),
    Growth("joints", "inverse dynamics", (2, 3, 4, 6, 8, 10, 12), torques_of, "1: joint by joint"),
    Growth("joints", "mass matrix", (2, 3, 4, 6, 8, 10, 12), matrices_of, "up to 2: an entry for each pair of joints"),
)


def seconds(call: Call, repeats: int) -> float:
    call()
    times = []
    for _ in range(repeats):
        start = time.process_time()
        call()
        times.append(time.process_time() - start)
    return min(times)


def slope(sizes: tuple[int, ...], values: list[float]) -> float:
    half = len(sizes) // 2
    return float(np.polyfit(np.log(sizes[half:]), np.log(values[half:]), 1)[0])


def peak(growth: Growth, size: int) -> float:
    """Bytes that the study takes beyond what its process held before, in a process of its own."""
    place = str(GROWTHS.index(growth))
    done = subprocess.run(
        [sys.executable, str(Path(__file__).resolve()), "--peak", place, str(size)], capture_output=True, text=True,
        check=True,
    )  # fmt: skip
    return float(done.stdout)


def held(key: str) -> float:
    """Of this process, bytes, as Linux tells it."""
    for line in Path("/proc/self/status").read_text(encoding="ascii").splitlines():
        if line.startswith(key + ":"):
            return 1024.0 * float(line.split()[1])
    raise RuntimeError(f"/proc/self/status tells no {key}")


def told_peak(place: int, size: int) -> float:
    growth = GROWTHS[place]
    growth.make(growth.sizes[0])()  # imports, caches
    call = growth.make(size)
    Path("/proc/self/clear_refs").write_text("5", encoding="ascii")  # the greatest so far counts no more
    before = held("VmRSS")
    found = call()
    after = held("VmHWM")
    assert found is not None
    return after - before


def measure(repeats: int) -> dict[Growth, tuple[list[float], list[float]]]:
    found = {}
    for growth in GROWTHS:
        times = [seconds(growth.make(size), repeats) for size in growth.sizes]
        memory = [peak(growth, size) for size in growth.memory]
        found[growth] = times, memory
        note(f"{growth.name} by {growth.panel}: " + ", ".join(f"{t * 1e3:.3g} ms" for t in times))
    return found


def part(found: dict[Growth, tuple[list[float], list[float]]]) -> str:
    lines = [
        f"Machine: {processor()}. One core; the slope is that of the logarithms, over the larger half of the sizes.",
        "",
        "![time and memory against positions, attitudes, fixtures, triangles and joints](pictures/growth.png)",
        "",
        "| of what | by number of | from … to | time, from … to | slope | expected |",
        "|---|---|---|---|---|---|",
    ]
    for growth, (times, _) in found.items():
        name, sizes = growth.name, f"{growth.sizes[0]:,} … {growth.sizes[-1]:,}"
        took = f"{times[0] * 1e3:.2g} … {times[-1] * 1e3:.3g} ms"
        grown = f"{slope(growth.sizes, times):.2f}"
        lines.append(f"| {name} | {growth.panel} | {sizes} | {took} | {grown} | {growth.told} |")
    lines += ["", "| memory of what | by number of | from … to | beyond the start, from … to | each |"]
    lines += ["|---|---|---|---|---|"]
    for growth, (_, memory) in found.items():
        if memory:
            sizes = f"{growth.memory[0]:,} … {growth.memory[-1]:,}"
            each = (memory[-1] - memory[0]) / (growth.memory[-1] - growth.memory[0])
            taken = f"{memory[0] / 1e6:.2g} … {memory[-1] / 1e6:.3g} MB"
            lines.append(f"| {growth.name} | {growth.panel} | {sizes} | {taken} | {each:.0f} B |")
    return "\n".join(lines) + "\n"


def draw(found: dict[Growth, tuple[list[float], list[float]]]) -> None:
    import matplotlib

    matplotlib.use("Agg")
    import matplotlib.pyplot as plt

    panels = list(dict.fromkeys(growth.panel for growth in found))
    figure, axes = plt.subplots(2, 3, figsize=(11, 6.4), layout="constrained")
    marks, shades = "os^", ("0.1", "0.45", "0.65")
    for axis, panel in zip(axes.flat, panels, strict=False):
        lines = [(growth, times) for growth, (times, _) in found.items() if growth.panel == panel]
        for (growth, times), mark, shade in zip(lines, marks, shades, strict=False):
            name = f"{growth.name}, slope {slope(growth.sizes, times):.2f}"
            axis.loglog(growth.sizes, [1e3 * t for t in times], mark + "-", color=shade, label=name)
        axis.set(xlabel=f"number of {panel}", ylabel="processor time (ms)")
        axis.legend(fontsize=8)
        if panel == "joints":  # less than a decade: a tick a number
            axis.set_xticks(lines[0][0].sizes, [str(size) for size in lines[0][0].sizes], minor=False)
            axis.set_xticks([], minor=True)
    last = axes.flat[len(panels)]
    for (growth, (_, memory)), mark, shade in zip(
        [(g, f) for g, f in found.items() if g.memory], marks, shades, strict=False
    ):
        taken, name = [max(m, 1e4) / 1e6 for m in memory], f"{growth.name} by {growth.panel}"
        last.loglog(growth.memory, taken, mark + "-", color=shade, label=name)
    last.set(xlabel="number of positions or attitudes", ylabel="greatest memory beyond the start (MB)")
    last.legend(fontsize=8)
    for axis in axes.flat:
        axis.grid(True, which="major", color="0.85")
    figure.savefig(PICTURE, dpi=110)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--write", action="store_true", help="write docs/performance.md and the picture")
    parser.add_argument("--repeats", type=int, default=5)
    parser.add_argument("--peak", nargs=2, type=int, metavar=("PLACE", "SIZE"), help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.peak:
        print(told_peak(*asked.peak))
        return
    found = measure(asked.repeats)
    print(part(found))
    if asked.write:
        draw(found)
        pages.put("growth", part(found))
        note(f"wrote the growth of {machine()}")


if __name__ == "__main__":
    main()
