"""Bases under loads that are told row by row, of our own numbers, for tests of the base study."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import xarray as xr

import armwright as aw
from armwright.studies.base_loads import base_loads
from armwright.studies.load_rows import LoadRows

G = 9.80665
SQUARE = ((-0.2, -0.2), (0.2, -0.2), (0.2, 0.2), (-0.2, 0.2))
TILTED = (0.0, 0.0, -4000.0, 5000.0, 0.0, 0.0)  # 4 kN of weight and 5 kN m, as in a worked example


def square(**more: Any) -> aw.BoltPattern:
    return aw.BoltPattern(**({"positions": SQUARE, "size": "M16", "property_class": "8.8"} | more))


def rows(count: int, kinds: Sequence[str] = ("rest",), missing: tuple[str, ...] = ()) -> LoadRows:
    """Rows of one joint, a case of each kind in turn, the row's number as its posture."""
    case = np.arange(count, dtype=np.int32) % len(kinds)
    time = np.where(np.array(kinds)[case] == "rest", np.nan, 0.1 * np.arange(count))
    zero = np.zeros((count, 1))
    return LoadRows(
        np.arange(count, dtype=float)[:, None], zero, zero, np.full(count, -1, np.int32), (), time, np.zeros(count),
        case, tuple(f"case {kind}" for kind in kinds), tuple(kinds), missing,
    )  # fmt: skip


def studied(base: aw.Base | None, wrench: Any, kinds: Sequence[str] = ("rest",), **more: Any) -> xr.Dataset:
    """The study of a base under these wrenches on its face, (rows, 6)."""
    loads = np.atleast_2d(np.asarray(wrench, np.float64))
    told: dict[str, Any] = {
        "has_track": False, "load_share": None, "joint_names": ["axis 1"], "joint_units": np.array(["rad"]),
        "labels": {}, "inputs_digest": "0" * 64, "arm_name": "an arm", "gravity": np.array([0.0, 0.0, -G]),
    }  # fmt: skip
    told |= more
    return base_loads(base, told.pop("rows", rows(len(loads), kinds)), loads, told.pop("gravity"), **told)


def missing(result: xr.Dataset) -> str:
    return str(result.attrs["missing"])


def mind(result: xr.Dataset) -> str:
    return str(result.attrs["to_mind"])


def safety(result: xr.Dataset, name: str) -> float:
    return float(result["safety"].sel(check=name))
