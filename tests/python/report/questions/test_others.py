"""What answers none of the other questions is told all the same."""

from __future__ import annotations

import numpy as np

import armwright as aw
from armwright.report.questions.others import OTHERS
from cases.reported import of, small_cell


def test_a_sweep_and_a_clearance() -> None:
    cell = small_cell()
    swept = cell.sweep({"tool.mass": ["1 kg", "2 kg"]}, [aw.ask.served()])
    clear = cell.clearance(np.zeros(cell.joint_count))
    section = OTHERS.section(of({"sweep": swept, "clearance": clear}))
    assert section.headline.startswith("Many designs: 2 designs") and [p.name for p in section.pictures] == ["sweep"]
    assert any(line.startswith("Clearance in single postures: least distance") for line in section.answers)
