"""What the mounting face, its bolts and the floor bear in many loadings, and what gives out first."""

from __future__ import annotations

from typing import Any

import numpy as np
import xarray as xr

from armwright.results import make_dataset
from armwright.results.base_variables import EXTREMES, KINDS
from armwright.studies import base_bolts, base_floor
from armwright.studies.base_checks import Check, Found
from armwright.studies.load_rows import LoadRows
from armwright.studies.run import Floats

CAUTION = (
    "a result is a calculation from what was typed in. Bolts, anchors and floor are for local codes, the approvals of "
    "their makers and those licensed for them: concrete's own failure (cone, edge, splitting) is not in these figures"
)

_WHOLE_SHARE = (
    "the share of the tension that a preloaded bolt feels is not told, and all of it is taken; 0.1 to 0.3 is usual "
    "between steel parts (common practice, no source)"
)


def base_loads(
    base: Any,
    rows: LoadRows,
    wrench: Floats,
    gravity: Floats,
    *,
    has_track: bool,
    load_share: float | None,
    joint_names: list[str],
    joint_units: Any,
    labels: dict[str, Any],
    inputs_digest: str,
    arm_name: str,
) -> xr.Dataset:
    """See Cell.base_loads. ``rows``: LoadRows; ``wrench`` (rows, 6): what the arm puts on the face, in the mount's
    frame; ``gravity`` in that frame."""
    parts = [Found(missing=list(rows.missing))]
    if base is None:
        parts[0].missing.append("bolts, plate, floor and tipping: no base is described")
    else:
        parts += _described(base, wrench, gravity, has_track, load_share)
    told = Found()
    for part in parts:
        for name in ("variables", "coords", "attributes", "rows"):
            getattr(told, name).update(getattr(part, name))
        told.checks += part.checks
        told.missing += part.missing
        told.mind += part.mind
    variables = told.variables | _reactions(rows, wrench) | _checks(told.checks, rows) | _places(told.rows, rows)
    attributes = told.attributes | {
        "missing": "\n".join(told.missing), "to_mind": "\n".join(told.mind), "caution": CAUTION, "rows": len(wrench),
        "method": f"{base_bolts.METHOD}. {base_floor.METHOD}",
    }  # fmt: skip
    for name in ("floor_pressure", "contact_share", "worst"):
        if name in told.rows:
            attributes[f"{name}_case"] = str(rows.names_of(told.rows[name])[0])
    kinds = [kind for key, kind in KINDS.items() if key in rows.kind_of()]
    coords = told.coords | {
        "kind": np.array(kinds), "extreme": np.array(EXTREMES), "joint": np.array(joint_names),
        "joint_unit": joint_units, "check": np.array([check.name for check in told.checks], dtype=np.str_),
    }  # fmt: skip
    return make_dataset("base_loads", variables, coords, attributes | labels, inputs_digest, arm_name)


def _described(base: Any, wrench: Floats, gravity: Floats, has_track: bool, load_share: float | None) -> list[Found]:
    outline = base_floor.outline_of(base)
    parts = []
    if base.bolts is None:
        parts.append(Found(missing=["bolts: no pattern is told"]))
    else:
        parts.append(base_bolts.bolts(base, outline, wrench, 1.0 if load_share is None else load_share))
        if load_share is None and base.bolts.preload is not None:
            parts.append(Found(mind=[_WHOLE_SHARE]))
    parts.append(base_floor.plate(base, outline, wrench))
    if base.free_standing:
        parts.append(base_floor.stand(base, wrench, gravity))
    elif has_track:
        parts.append(Found(mind=["the face is the top of the carriage: what the rails bear is told by track_loads"]))
    return parts


def _reactions(rows: LoadRows, wrench: Floats) -> dict[str, Any]:
    """Of each kind the rows where force and moment are greatest in each way."""
    measures = np.stack([
        wrench[:, 2], -wrench[:, 2], np.hypot(wrench[:, 0], wrench[:, 1]), np.hypot(wrench[:, 3], wrench[:, 4]),
        np.abs(wrench[:, 5]),
    ])  # fmt: skip
    kinds = rows.kind_of()
    here = [key for key in KINDS if key in kinds]
    at = np.array([np.where(kinds == key, measures, -np.inf).argmax(axis=1) for key in here])
    return {
        "reaction_force": wrench[at, :3], "reaction_moment": wrench[at, 3:], "reaction_case": rows.names_of(at),
        "reaction_time": rows.time[at], "reaction_posture": rows.q[at],
    }  # fmt: skip


def _checks(checks: list[Check], rows: LoadRows) -> dict[str, Any]:
    at = np.array([check.row for check in checks], dtype=np.int64)
    return {
        "safety": np.array([check.safety for check in checks], dtype=np.float64),
        "wanted": np.array([check.wanted for check in checks], dtype=np.float64),
        "check_part": np.array([check.part for check in checks], dtype=np.str_),
        "check_basis": np.array([check.basis for check in checks], dtype=np.str_),
        "check_case": rows.names_of(at), "check_time": rows.time[at],
    }  # fmt: skip


def _places(found: dict[str, Any], rows: LoadRows) -> dict[str, Any]:
    """In which case and when, for those variables that tell it."""
    told: dict[str, Any] = {}
    for name in ("bolt_pull", "tip"):
        if name in found:
            told |= {f"{name}_case": rows.names_of(found[name]), f"{name}_time": rows.time[found[name]]}
    if "bolt_shear" in found:
        told["bolt_shear_case"] = rows.names_of(found["bolt_shear"])
    return told
