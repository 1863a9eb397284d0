"""Ten million positions in 200 directions each, kept in a store as it goes: what the process held at its greatest, and
what stands on the disk. Takes some twenty minutes of a core; ended by Ctrl-C, the same call goes on.

    PYTHONPATH=python:tests python tests/bench/large_map.py FOLDER
"""

from __future__ import annotations

import argparse
import resource
import sys
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent)]

from bench_reach_map import our_cell  # noqa: E402


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("store", type=Path, help="an empty folder, or that of a run that was ended")
    parser.add_argument("--spacing", type=float, default=1.6 / 214, help="m, between positions (%(default).4f)")
    parser.add_argument("--directions", type=int, default=200, help="at each position (%(default)s)")
    asked = parser.parse_args()
    start = time.monotonic()
    found = our_cell().reach_map(
        asked.spacing, bounds=((0.4, -0.8, 0.1), (2.0, 0.8, 1.7)), directions=asked.directions, spins=1, threads=1,
        store=asked.store, progress=True,
    )  # fmt: skip
    positions = found.sizes["x"] * found.sizes["y"] * found.sizes["z"]
    held = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * (1 if sys.platform == "darwin" else 1024)
    kept = sum(path.stat().st_size for path in asked.store.iterdir())
    print(f"{positions:,} positions x {asked.directions} directions in {time.monotonic() - start:.0f} s: "
          f"{held / 1e6:.0f} MB at most, {kept / 1e6:.0f} MB in the store")  # fmt: skip


if __name__ == "__main__":
    main()
