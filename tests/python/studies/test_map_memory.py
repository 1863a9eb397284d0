"""What a map holds in memory for each of its positions, at its greatest: a process of its own for each size, so that
what the system counts is the map's."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

MEASURED = """
import resource, sys
import armwright as aw
from cases.described import positioner

def greatest():
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * (1 if sys.platform == "darwin" else 1024)

cell, study, spacing = aw.Cell(positioner()), sys.argv[1], float(sys.argv[2])
ask = getattr(cell, study)
ask(0.5, directions=1, spins=1, threads=1)
before = greatest()
around = ((-4.0, -4.0, -4.0), (4.0, 4.0, 4.0))
told = ask(spacing, bounds=around, directions=1, spins=1, threads=1)
print(told.sizes["x"] * told.sizes["y"] * told.sizes["z"], greatest() - before)
"""


def held(study: str, spacing: float) -> tuple[int, int]:
    """Positions, and the bytes that the process held more than before."""
    call = [sys.executable, "-c", MEASURED, study, str(spacing)]
    # The package and the tests' cases.
    found_here = os.pathsep.join(os.path.abspath(place) for place in sys.path if place)
    told = subprocess.run(
        call, capture_output=True, text=True, check=False, timeout=250, env=os.environ | {"PYTHONPATH": found_here}
    )
    assert told.returncode == 0, told.stderr
    positions, size = told.stdout.split()
    return int(positions), int(size)


# docs/scale.md states 130: ten million positions within 1.3 GB, whatever the number of directions.
@pytest.mark.parametrize("study", ["reach_map", "payload_map"])
def test_bytes_a_position(study: str) -> None:
    pytest.importorskip("resource", reason="the system does not tell what a process held")
    (fewer, less), (more, most) = held(study, 0.1), held(study, 0.06)
    assert fewer > 500_000 and more > 2_000_000
    assert (most - less) / (more - fewer) < 130
