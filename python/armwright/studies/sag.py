"""How far the tool sinks, and which part gives way: in postures, and over the reach."""

from __future__ import annotations

from typing import Any

import numpy as np
import xarray as xr

from armwright import _core
from armwright.results import make_dataset
from armwright.studies import pieces, run
from armwright.studies.carried import by_load, load_row
from armwright.studies.elastic import NO_STRESS
from armwright.studies.payload_map import (
    Among,
    asks_positions_alone,
    curve_positions,
    inverse_of,
)
from armwright.studies.subject import Subject

DIRECTIONS = 72  # of the tool axis that a map tries, unless told
SMALL_TURN = 0.1  # rad of the tool; beyond it small deflections are no longer small (own estimate)


def sag(
    subject: Subject,
    rows: run.Floats,
    carried: run.Floats,
    batch: tuple[int, ...],
    *,
    push: run.Floats,
    how: pieces.How,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
    at: Any = None,
) -> xr.Dataset:
    """See Cell.sag. ``carried``: the load of every row (rows, 13); a row of NaN has no posture."""
    model, elastic = subject.model, subject.elastic
    known = ~np.isnan(rows).any(axis=1)
    found = pieces.run_pieces(
        _prepare, (subject, push), np.column_stack([rows, carried])[known],
        study="sag", inputs_digest=inputs_digest, request={"q": rows, "carried": carried, "push": push}, how=how,
    )  # fmt: skip
    own, load, pushed = (
        _spread(found[name], known, len(elastic.causes)) for name in ("own", "load", "push")
    )
    parts = own + load + pushed
    total = parts.sum(axis=1)
    size = np.linalg.norm(total[:, :3], axis=1)
    g = np.array(model.gravity)
    with np.errstate(invalid="ignore", divide="ignore"):
        share = np.einsum("rci,ri->rc", parts[:, :, :3], total[:, :3]) / (size**2)[:, None]
    share[size < 1e-15] = np.nan
    values = {
        "q": rows, "load_mass": carried[:, 0], "sag": total[:, :3], "sag_turn": total[:, 3:], "sag_size": size,
        "sag_down": total[:, :3] @ g / max(float(np.linalg.norm(g)), 1e-300),
        "sag_own": own.sum(axis=1)[:, :3], "sag_load": load.sum(axis=1)[:, :3], "sag_push": pushed.sum(axis=1)[:, :3],
        "cause_shift": parts[:, :, :3], "cause_turn": parts[:, :, 3:], "cause_share": share,
        "small": np.linalg.norm(total[:, 3:], axis=1) <= SMALL_TURN,
    }  # fmt: skip
    variables = {name: array.reshape((*batch, *array.shape[1:])) for name, array in values.items()}
    if at is not None:
        variables["at"] = at
    return make_dataset(
        "sag", variables, _coords(subject), {"push": push.tolist()} | not_counted(subject) | labels, inputs_digest,
        arm_name,
    )  # fmt: skip


def _coords(subject: Subject) -> dict[str, Any]:
    model = subject.model
    joints = {"joint": np.array(model.joint_names), "joint_unit": run.joint_units(model)}
    return joints | causes_of(subject)


def causes_of(subject: Subject) -> dict[str, Any]:
    """Coordinates of everything that gives way."""
    return {"cause": np.array(subject.elastic.causes), "cause_kind": np.array(subject.elastic.kinds)}


def not_counted(subject: Subject) -> dict[str, str]:
    """The attribute that says so."""
    return {"not_counted": "\n".join(line for line in subject.elastic.not_counted if NO_STRESS not in line)}


def _spread(found: run.Floats, known: Any, causes: int) -> run.Floats:
    out = np.full((len(known), causes, 6), np.nan)
    out[known] = found
    return out


def _prepare(subject: Subject, push: run.Floats) -> pieces.Compute:
    model, chain, n = subject.model, subject.elastic.still, subject.model.joint_count
    nothing = _core.model.Inertia()

    def compute(rows: run.Floats, threads: int, report: run.Report | None) -> run.Arrays:
        q, carried = np.ascontiguousarray(rows[:, :n]), rows[:, n:]
        weight = _core.dynamics.tool_sag(model, chain, nothing, [0.0] * 6, q)
        loaded = by_load(carried, lambda load, at: _core.dynamics.tool_sag(model, chain, load, [0.0] * 6, q[at]))
        pushed = _core.dynamics.tool_sag(model, chain, nothing, push.tolist(), q)
        return {"own": weight, "load": loaded.reshape(weight.shape) - weight, "push": pushed - weight}

    return compute


def sag_over_reach(
    subject: Subject,
    spacing: float,
    load: _core.model.Inertia,
    *,
    attitude: run.Attitude,
    directions: int | run.Floats | None,
    spins: int,
    how: pieces.How,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.sag_over_reach."""
    free = asks_positions_alone(subject, attitude, directions, np.zeros(3))
    inverse = inverse_of(subject, free)
    if directions is None:
        directions = DIRECTIONS
    spins = run.whole("spins", spins, 1, 10_000)
    attitudes = run.attitudes_for(attitude, directions, spins)  # checked, whether they are tried or not
    if free:
        attitudes = run.some_attitude()
    run.track_step_of(inverse, spacing)
    distance, height, at = curve_positions(inverse.model, spacing)
    positions = np.ascontiguousarray(at[:, :, 0].reshape(-1, 3))  # ahead, where the joints are at mid-range
    row = load_row(load)
    request = {"spacing": spacing, "attitudes": attitudes, "load": row, "positions": positions}
    found = pieces.run_pieces(
        _prepare_map, (subject, free, spacing, attitudes, row), positions,
        study="sag_over_reach", inputs_digest=inputs_digest, request=request, how=how,
    )  # fmt: skip
    shape = (len(height), len(distance))
    variables = {name: values.reshape((*shape, *values.shape[1:])) for name, values in found.items()}
    step = float(distance[1]) if len(distance) > 1 else spacing  # no less than a hundredth of the reach
    tried = {"directions": max(len(attitudes) // spins, 1), "spins": spins, "spacing": step, "attitude": attitude}
    return make_dataset(
        "sag_over_reach", variables, _coords(subject) | {"distance": distance, "height": height},
        tried | {"load_mass": load.mass} | not_counted(subject) | labels, inputs_digest, arm_name,
    )  # fmt: skip


def _prepare_map(
    subject: Subject, free: bool, spacing: float, attitudes: run.Floats, load: run.Floats
) -> pieces.Compute:
    search = Among(free, False, 0.0, spacing, True).search(subject)
    carried, chain = _core.model.Inertia(float(load[0]), load[1:4], load[4:].reshape(3, 3)), subject.elastic.still

    def compute(positions: run.Floats, threads: int, report: run.Report | None) -> run.Arrays:
        complete, least, greatest, lowest, cause, share, q = _core.studies.sag_map(
            search, chain, carried, positions, attitudes, threads, report
        )
        run.finished(complete)
        return {"sag_least": least, "sag_greatest": greatest, "sag_down": lowest, "main_cause": cause.astype(np.int64),
                "main_share": share, "q": q[:, : subject.model.joint_count]}  # fmt: skip

    return compute
