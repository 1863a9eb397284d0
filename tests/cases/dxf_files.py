"""DXF files as ezdxf reads them back, broken ones included: nothing may need to be mended."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest


def read_dxf(path: Path) -> Any:
    """The modelspace of a drawing in which the auditor finds nothing."""
    recover = pytest.importorskip("ezdxf.recover")
    document, auditor = recover.readfile(str(path))
    assert auditor.errors == [] and auditor.fixes == []
    assert document.dxfversion == "AC1024"  # R2010
    assert document.header["$INSUNITS"] == 4  # mm
    return document.modelspace()


def outlines_on(space: Any, layer: str) -> list[tuple[np.ndarray, bool]]:
    """The polylines of a layer, mm, and whether they are closed."""
    return [(np.array(line.get_points("xy")), line.closed) for line in space.query(f'LWPOLYLINE[layer=="{layer}"]')]


def lengths(space: Any) -> list[float]:
    """What the dimensions measure, mm."""
    return [dimension.get_measurement() for dimension in space.query("DIMENSION")]


def words(space: Any) -> list[str]:
    """All lines of text."""
    told = [text.plain_text() for text in space.query("TEXT")]
    return told + [line for text in space.query("MTEXT") for line in text.plain_text().split("\n")]
