"""Instructions an item, ours and the peer's, counted by callgrind: the part "counts" of docs/performance.md. What else
the machine does changes no count, so that they back what the ratios of time claim.

    PYTHONPATH=python:tests python tests/bench/counts.py --write        # needs valgrind (apt-get install valgrind)

Valgrind knows no 512-bit registers: ours runs with four lanes there, and the peers' builds without -march=native. Ours
counts all that the call from Python does."""

from __future__ import annotations

import argparse
import ctypes
import os
import re
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent)]

import build_peers  # noqa: E402
import numpy as np  # noqa: E402
import pages  # noqa: E402
import shared  # noqa: E402
from measure import note  # noqa: E402

from cases.arms import track_arm  # noqa: E402

COUNT = 2000
Call = Callable[[], object]


def kernels() -> dict[str, tuple[int, Call, str, Call]]:
    """By name: how many items, ours, who the peer is, the peer."""
    shared.native = False
    arm, peers = shared.seven()
    pin = next(iter(peers.values()))
    q = shared.batch(track_arm(), COUNT)
    qd, qdd = shared.motions(q)
    cell, coal = shared.surrounded()
    found: dict[str, tuple[int, Call, str, Call]] = {
        "tool pose": (COUNT, lambda: arm.tool_pose(q), "pin", lambda: pin.tool_pose(q)),
        "manipulability": (COUNT, lambda: arm.manipulability(q), "pin", lambda: pin.jacobian(q, index=True)),
        "gravity torque": (COUNT, lambda: arm.gravity_torque(q), "pin", lambda: pin.gravity(q)),
        "inverse dynamics": (
            COUNT, lambda: arm.inverse_dynamics(q, qd, qdd), "pin", lambda: pin.inverse_dynamics(q, qd, qdd),
        ),
        "least distance of a posture": (
            COUNT, lambda: cell.clearance(q), "coal, best first", lambda: coal.least_distance_pruned(q),
        ),
        "clear by a margin or not": (
            COUNT, lambda: cell.is_clear(q, 0.02), "coal, its tree", lambda: coal.is_clear_tree(q, 0.02),
        ),
    }  # fmt: skip
    for name in ("spherical", "three parallel"):
        six, chain, solvers = shared.closed_form(name)
        poses = six.tool_pose(shared.batch(chain, COUNT))
        found[f"all inverse solutions, {name}"] = (
            COUNT, lambda six=six, poses=poses: six.solve(poses, within_limits=False), "eaik",
            lambda eaik=solvers["eaik"], poses=poses: eaik.solve(poses),
        )  # fmt: skip
    return found


def marks() -> ctypes.CDLL:
    library = build_peers.OUT / "marks.so"
    build_peers.OUT.mkdir(exist_ok=True)
    call = [build_peers.compiler(), *build_peers.COMMON, str(build_peers.SOURCES / "marks.cpp"), "-o", str(library)]
    subprocess.run(call, check=True)
    return ctypes.CDLL(str(library))


def counted() -> None:
    """Inside valgrind: each side once for caches and pages, then counted."""
    marked = marks()
    if not marked.under_valgrind():
        raise SystemExit("to be run by valgrind: see --write")
    for name, (_, ours, _, peer) in kernels().items():
        for side, call in (("ours", ours), ("peer", peer)):
            call()
            marked.begin()
            call()
            marked.end(f"{side}: {name}".encode())


def count() -> dict[str, int]:
    """Instructions by "ours: kernel" and "peer: kernel"."""
    found = {}
    with tempfile.TemporaryDirectory() as folder:
        valgrind = ["valgrind", "--tool=callgrind", "--instr-atstart=no", f"--callgrind-out-file={folder}/out"]
        inside = [sys.executable, str(Path(__file__).resolve()), "--inside"]
        done = subprocess.run([*valgrind, *inside], capture_output=True, text=True, check=False, env=dict(os.environ))
        if done.returncode != 0:
            raise SystemExit(f"valgrind ended with {done.returncode}:\n{done.stderr[-2000:]}")
        for path in Path(folder).glob("out*"):
            text = path.read_text(encoding="utf-8")
            name, sum_ = re.search(r"Trigger: Client Request: (.+)", text), re.search(r"^summary: (\d+)", text, re.M)
            if name and sum_:
                found[name.group(1).strip()] = int(sum_.group(1))
    return found


def part(found: dict[str, int]) -> str:
    lines = [
        "Instructions an item, counted by callgrind, which knows no 512-bit registers: ours with four lanes and all",
        "that the call from Python does; the peers' own loop, built without -march=native.",
        "",
        "| kernel | ours | peer | its instructions | times ours |",
        "|---|---|---|---|---|",
    ]
    for name, (items, _, who, _) in kernels().items():
        ours, peer = (found[f"{side}: {name}"] / items for side in ("ours", "peer"))
        lines.append(f"| {name} | {ours:,.0f} | {who} | {peer:,.0f} | **{peer / ours:.1f}** |")
    return "\n".join(lines) + "\n"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--write", action="store_true", help="write docs/performance.md")
    parser.add_argument("--inside", action="store_true", help=argparse.SUPPRESS)
    asked = parser.parse_args()
    np.random.default_rng()  # before anything is counted
    if asked.inside:
        counted()
        return
    text = part(count())
    print(text)
    if asked.write:
        pages.put("counts", text)
        note("wrote the counts")


if __name__ == "__main__":
    main()
