"""Runs every bench against its peer and prints one table; with --write also into docs/performance.md and, with its
JSON, results/<machine>/.

    PYTHONPATH=python:tests python tests/bench/run_all.py [--write] [--only tool_pose gravity ...] [--batch 20000]
    [--repeats 15]

One core, one run, ours and the peer in turns. The peers are built first, if need be (build_peers.py; takes
minutes)."""

from __future__ import annotations

import argparse
import csv
import datetime
import importlib
import json
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent)]

import pages  # noqa: E402
from measure import SMOKE, Row, Size, machine, note, processor, table, versions  # noqa: E402

KERNELS = ["tool_pose", "jacobian", "gravity", "inverse_dynamics", "drive_torques", "inverse", "clearance", "reach_map"]
KERNELS += ["forward_dynamics", "stop", "timing", "placement", "scale"]


def run(names: list[str], size: Size) -> dict[str, list[Row]]:
    found = {}
    for name in names:
        note(f"{name} ...")
        found[name] = importlib.import_module(f"bench_{name}").rows(size)
        note(table(found[name]).splitlines()[-1])
    return found


def keep(found: dict[str, list[Row]], size: Size) -> None:
    """Adds a line a row to results/<machine>/<kernel>.csv: the record of this machine."""
    folder = HERE / "results" / machine()
    folder.mkdir(parents=True, exist_ok=True)
    told = versions()
    today = datetime.date.today().isoformat()
    for name, rows in found.items():
        path = folder / f"{name}.csv"
        fresh = not path.exists()
        with path.open("a", newline="", encoding="utf-8") as file:
            out = csv.writer(file)
            if fresh:
                out.writerow(
                    [
                        "date",
                        "kernel",
                        "ours_per_s",
                        "peer_per_s",
                        "ratio",
                        "low",
                        "high",
                        "peer",
                        "batch",
                        "repeats",
                        *told,
                    ]
                )
            for row in rows:
                numbers = [f"{v:.6g}" for v in (row.ours, row.theirs, row.ratio, *row.spread)]
                out.writerow([today, row.kernel, *numbers, row.peer, size.batch, len(row.ratios), *told.values()])


def part(rows: list[Row], size: Size) -> str:
    """The table for the page, with what it was measured on."""
    told = ", ".join(f"{name} {number}" for name, number in versions().items())
    return f"""Machine: {processor()}. Versions: {told}.
Batches of {size.batch} or a share of it, {size.repeats} repeats.

{table(rows)}
"""


def as_json(rows: list[Row], size: Size) -> str:
    """The same table for programs."""
    told = {
        "machine": processor(),
        "date": datetime.date.today().isoformat(),
        "versions": versions(),
        "batch": size.batch,
        "rows": [
            {
                "kernel": row.kernel, "peer": row.peer, "goal": row.goal, "ours_per_s": row.ours,
                "peer_per_s": row.theirs, "ratio": row.ratio, "middle_half": row.spread, "repeats": len(row.ratios),
            }
            for row in rows
        ],
    }  # fmt: skip
    return json.dumps(told, indent=1) + "\n"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument(
        "--only", nargs="+", default=KERNELS, choices=KERNELS, metavar="KERNEL", help=", ".join(KERNELS)
    )
    parser.add_argument("--batch", type=int, default=Size.batch)
    parser.add_argument("--repeats", type=int, default=Size.repeats)
    parser.add_argument("--smoke", action="store_true", help="tiny sizes: do the answers agree?")
    parser.add_argument("--write", action="store_true", help="write docs/performance.md and results/")
    asked = parser.parse_args()
    size = SMOKE if asked.smoke else Size(asked.batch, asked.repeats)
    found = run(asked.only, size)
    rows = [row for some in found.values() for row in some]
    print(f"\n{processor()}; " + ", ".join(f"{n} {v}" for n, v in versions().items()) + "\n\n" + table(rows))
    if asked.write:
        keep(found, size)
        if asked.only == KERNELS:
            pages.put("table", part(rows, size))
            (HERE / "results" / machine() / "table.json").write_text(as_json(rows, size), encoding="utf-8")
            note(f"wrote {pages.PAGE.name}")
    missed = [row.kernel for row in rows if row.ratio < row.goal]
    if missed and not asked.smoke:
        print("\nbelow the goal: " + "; ".join(missed))


if __name__ == "__main__":
    main()
