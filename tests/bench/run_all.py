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
from typing import Any

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


def part(told: dict[str, Any]) -> str:
    """The table for the page, with what it was measured on."""
    rows = [
        Row(each["kernel"], each["peer"], each["goal"], each["ours_per_s"], each["peer_per_s"], tuple(each["ratios"]))
        for each in told["rows"]
    ]
    packages = ", ".join(f"{name} {number}" for name, number in told["versions"].items())
    dates = sorted({each["date"] for each in told["rows"]})
    return f"""Machine: {told["machine"]}. Measured: {", ".join(dates)}. Versions: {packages}.

{table(rows)}
"""


def with_rows(told: dict[str, Any], rows: list[Row], size: Size) -> dict[str, Any]:
    """What programs are told: every kernel's last row on this machine, those measured now in place of older ones."""
    today = datetime.date.today().isoformat()
    fresh = {
        row.kernel: {
            "kernel": row.kernel, "peer": row.peer, "goal": row.goal, "ours_per_s": row.ours, "peer_per_s": row.theirs,
            "ratio": row.ratio, "middle_half": row.spread, "ratios": row.ratios, "batch": size.batch, "date": today,
        }
        for row in rows
    }  # fmt: skip
    kept = [fresh.pop(each["kernel"], each) for each in told.get("rows", [])]
    return {"machine": processor(), "versions": versions(), "rows": [*kept, *fresh.values()]}


def write_table(rows: list[Row], size: Size) -> None:
    path = HERE / "results" / machine() / "table.json"
    told = json.loads(path.read_text(encoding="utf-8")) if path.exists() else {}
    told = with_rows(told, rows, size)
    path.write_text(json.dumps(told, indent=1) + "\n", encoding="utf-8")
    pages.put("table", part(told))
    note(f"wrote {pages.PAGE.name}")


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
        write_table(rows, size)
    missed = [row.kernel for row in rows if row.ratio < row.goal]
    if missed and not asked.smoke:
        print("\nbelow the goal: " + "; ".join(missed))


if __name__ == "__main__":
    main()
