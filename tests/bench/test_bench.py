"""The bench runs and its answers agree with the peers', at tiny sizes. Nothing is timed here: no ratio is asserted."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

for package in ("pinocchio", "coal", "eaik", "toppra", "mujoco"):
    pytest.importorskip(package, reason="needs the peers: pip install 'armwright[peers]'")
sys.path.insert(0, str(Path(__file__).parent))
import build_peers  # noqa: E402

KERNELS = {  # and the library that holds its peer
    "tool_pose": "map",
    "jacobian": "map",
    "gravity": "map",
    "inverse_dynamics": "map",
    "drive_torques": "map",
    "forward_dynamics": "map",
    "stop": "",
    "inverse": "eaik",
    "clearance": "map",
    "reach_map": "map",
    "timing": "",
    "placement": "",
    "scale": "",
}


@pytest.mark.timeout(1000)  # where its peer is not built yet
@pytest.mark.parametrize("kernel", KERNELS)
def test_answers_agree(kernel: str) -> None:
    peer = KERNELS[kernel]
    if peer and not (build_peers.OUT / f"{peer}.so").exists() and os.environ.get("CI") != "true":
        pytest.skip(f"the peer {peer} is not built (minutes): python tests/bench/build_peers.py {peer}")
    import run_all
    import shared

    shared.native = False
    found = run_all.run([kernel], run_all.SMOKE)[kernel]
    assert found and all(row.ours > 0 and row.theirs > 0 for row in found)


def test_table_and_page_hold_every_row() -> None:
    import json

    from measure import SMOKE, Row, machine
    from pages import PAGE, with_part
    from run_all import part, with_rows

    rows = [Row("a kernel", "a peer", 2.0, 3e6, 1e6, (2.9, 3.0, 3.1)), Row("another", "a peer", 2.0, 5.0, 1e3, (0.5,))]
    page = PAGE.read_text(encoding="utf-8")
    told = json.loads(json.dumps(with_rows({}, rows, SMOKE)))
    text = with_part(page, "table", part(told))
    for name in ("counts", "growth"):  # the other parts stay as they are
        assert with_part(page, name, "changed\n").split(f"<!-- {name}:")[0] == page.split(f"<!-- {name}:")[0]
    assert [row["ratio"] for row in told["rows"]] == [3.0, 0.5]
    again = with_rows(told, [Row("another", "a peer", 2.0, 5.0, 1e3, (0.7,))], SMOKE)  # in the place of the older one
    assert [(row["kernel"], row["ratio"]) for row in again["rows"]] == [("a kernel", 3.0), ("another", 0.7)]
    assert "| a kernel | 3.00 M/s | 1.00 M/s | a peer | **3.00** | 2.90 to 3.10 | 2 |" in text
    assert "**0.50**" in text and "2 (missed)" in text
    assert machine() == machine().lower() and "/" not in machine()
