"""The page with 50 000 positions: how large it is, how long it takes to open, how often it is drawn anew without a
graphics card. Measured as processor time, which other work on the machine changes little; run with -s to read it."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from armwright.pictures.page3d.template import render
from cases import sample_results as sample
from cases.on_page import told

TURN = """async (count) => {
  const canvas = document.getElementById("canvas"), drawn = () => new Promise((done) => requestAnimationFrame(done));
  for (let i = 0; i < count; ++i) {
    canvas.dispatchEvent(new KeyboardEvent("keydown", { key: "ArrowLeft" }));
    await drawn(); await drawn();
  }
}"""


def processor_seconds() -> float:
    """Of this process's descendants that live: the browser with all of its parts."""
    children: dict[int, list[tuple[int, float]]] = {}
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            own, rest = stat.read_text().rsplit(")", 1)
        except OSError:  # it has just ended
            continue
        words = rest.split()
        taken = (int(words[11]) + int(words[12])) / os.sysconf("SC_CLK_TCK")
        children.setdefault(int(words[1]), []).append((int(own.split()[0]), taken))
    open_, total = [os.getpid()], 0.0
    while open_:
        for child, taken in children.get(open_.pop(), []):
            total += taken
            open_.append(child)
    return total


def seconds_a_frame(page) -> float:
    start = processor_seconds()
    page.evaluate(TURN, 4)
    return (processor_seconds() - start) / 4


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="no /proc here to read processor time from")
def test_fifty_thousand_positions_open_and_turn(opened):
    dataset = sample.reach_map(0.057)
    count = int(dataset["reachable"].sum())
    assert 50_000 <= count < 60_000
    text = render(sample.scene(), [dataset], cycle=sample.motion())
    assert len(text.encode()) < 15e6
    start = processor_seconds()
    page = opened(text, "#cut=", size=(1280, 800))
    page.evaluate(TURN, 1)
    opening = processor_seconds() - start
    wall = page.evaluate("performance.getEntriesByType('navigation')[0].domInteractive") / 1000
    assert int(told(page)["shown"]) == count
    frame = min(seconds_a_frame(page) for _ in range(3))  # of three, as what else runs takes its share
    print(f"\n{count} positions: {len(text) / 1e6:.1f} MB, opened in {opening:.2f} s of a processor ({wall:.2f} s by "
          f"the clock), {frame:.3f} s a frame of 1280 x 800, {os.cpu_count()} processors")  # fmt: skip
    assert opening < 3 * (os.cpu_count() or 1) and frame < 0.2 * (os.cpu_count() or 1)
