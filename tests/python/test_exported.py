from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

import armwright as aw
from cases.described import positioner
from cases.dxf_files import outlines_on, read_dxf
from cases.glb_files import GlbFile


def test_a_cell_writes_itself(tmp_path: Path) -> None:
    cell = aw.Cell(positioner(), fixtures=aw.Box((0.2, 0.4, 0.6), (1, 0, 0), name="post"),
                   targets=aw.Target((0.8, 0, 0.1), "near"))  # fmt: skip
    checked = cell.check_targets()
    read = GlbFile(cell.to_glb(tmp_path / "a.glb", q=np.full(6, 0.1), checked=checked))
    assert read.extras("axis 3")["position"] == 0.1 and read.extras("near")["told"] == "served"
    space = read_dxf(cell.to_dxf(tmp_path / "a.dxf", checked=checked))
    assert len(outlines_on(space, "FIXTURES")) == 1
    with pytest.raises(aw.InputError, match=r"^q: got an array of shape \(2,\)"):
        cell.to_glb(tmp_path / "b.glb", q=[0, 0])
