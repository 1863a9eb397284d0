"""What every joint, the mount and the carriage bear over rows of loading: the extremes, and every row."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright import _core
from armwright.results import make_dataset
from armwright.results.wrench_variables import COMPONENTS, ENDS, QUANTITIES, ROW_KINDS
from armwright.studies import run
from armwright.studies.load_rows import LoadRows, row_wrenches

MOUNT, CARRIAGE = "mount", "carriage"
senses = (
    "a joint's: of the part before it on the link that it moves, in that link's frame; the mount's: of arm and base "
    "link on what they are bolted to, in the mount's frame; the carriage's: of the carriage on its rails, in the "
    "track's axes"
)


class Borne(NamedTuple):
    """What parts bear in every row, split by each part's axis."""

    names: tuple[str, ...]
    axes: run.Floats  # (parts, 3), unit vectors in the part's own frame
    wrench: run.Floats  # (rows, parts, 6)
    quantities: run.Floats  # (rows, parts, 4), in the order of QUANTITIES


def split(wrench: run.Floats, axes: run.Floats) -> run.Floats:
    """Axial force, radial force, tilting moment and axial torque of wrenches (..., 6) by axes (..., 3): (..., 4)."""
    force, moment = wrench[..., :3], wrench[..., 3:]
    along, about = (np.sum(part * axes, axis=-1) for part in (force, moment))
    across = [
        np.linalg.norm(part - axial[..., None] * axes, axis=-1) for part, axial in ((force, along), (moment, about))
    ]
    return np.stack([along, across[0], across[1], about], axis=-1)


def borne(model: _core.model.Model, rows: LoadRows, joint_axes: run.Floats, up: run.Floats | None) -> Borne:
    """Of the arm's joints, the mount and, where there is a track, the carriage. ``joint_axes``: (arm's joints, 3),
    in the links' frames; ``up``: away from the rails, in the track's axes."""
    found = row_wrenches(model, rows)
    first = 1 if model.has_track else 0
    names, axes = [*model.joint_names[first:], MOUNT], [*joint_axes, np.array([0.0, 0.0, 1.0])]
    wrenches = [*np.moveaxis(found.joint[:, first:], 1, 0), found.mount]
    if found.carriage is not None:
        names.append(CARRIAGE)
        axes.append(np.asarray(up, np.float64))
        wrenches.append(found.carriage)
    wrench, told = np.stack(wrenches, axis=1), np.array(axes)
    return Borne(tuple(names), told, wrench, split(wrench, told))


def joint_wrenches(
    model: _core.model.Model,
    rows: LoadRows,
    *,
    joint_axes: run.Floats,
    up: run.Floats | None,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.joint_wrenches."""
    found = borne(model, rows, joint_axes, up)
    least, greatest = found.quantities.argmin(axis=0), found.quantities.argmax(axis=0)
    where: NDArray[np.int64] = np.stack([least, greatest], axis=-1)  # (parts, quantities, ends)
    parts, quantities = np.ix_(np.arange(len(found.names)), np.arange(len(QUANTITIES)))
    at_part = parts[..., None]
    wrench = found.wrench[where, at_part]
    variables: dict[str, Any] = {
        "axis": found.axes,
        "extreme": found.quantities[where, at_part, quantities[..., None]],
        "extreme_case": rows.case[where], "extreme_time": rows.time[where], "extreme_row": where,
        "posture": rows.q[where], "force": wrench[..., :3], "moment": wrench[..., 3:],
        "row_case": rows.case, "row_time": rows.time,
    }  # fmt: skip
    variables |= {
        name.replace(" ", "_"): found.quantities[..., i] for i, name in enumerate(QUANTITIES)
    }
    coords = {
        "part": np.array(found.names), "quantity": np.array(QUANTITIES), "end": np.array(ENDS),
        "quantity_unit": np.array(["N" if "force" in name else "N*m" for name in QUANTITIES]),
        "component": np.array(COMPONENTS), "joint": np.array(model.joint_names),
        "joint_unit": run.joint_units(model), "case": np.array(rows.case_names, np.str_),
        "case_kind": np.array([ROW_KINDS.index(kind) for kind in rows.case_kinds], np.int64),
    }  # fmt: skip
    terms = {"senses": senses, "missing": "\n".join(rows.missing)}
    return make_dataset("joint_wrenches", variables, coords, terms | labels, inputs_digest, arm_name)
