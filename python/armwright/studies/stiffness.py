"""How stiff the arm is at its tool, and how low it rings."""

from __future__ import annotations

from typing import Any

import numpy as np
import xarray as xr

from armwright import _core
from armwright.results import make_dataset
from armwright.studies import pieces, run
from armwright.studies.carried import load_row
from armwright.studies.sag import causes_of, not_counted
from armwright.studies.subject import Subject

most_modes = 20
_SINGULAR = 1e-10  # least by greatest eigenvalue of the compliance, in its own scale, from which it has an inverse
_MOTIONS = ("along x", "along y", "along z", "about x", "about y", "about z")


def stiffness(
    subject: Subject,
    rows: run.Floats,
    load: _core.model.Inertia,
    batch: tuple[int, ...],
    *,
    modes: int,
    how: pieces.How,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.stiffness."""
    model, elastic = subject.model, subject.elastic
    modes = run.whole("modes", modes, 1, most_modes)
    row = load_row(load)
    found = pieces.run_pieces(
        _prepare, (subject, row, modes), rows,
        study="stiffness", inputs_digest=inputs_digest, request={"q": rows, "load": row, "modes": modes}, how=how,
    )  # fmt: skip
    parts = found["compliance"]
    total = parts.sum(axis=1)
    spring = np.einsum("rii->ri", total)
    with np.errstate(divide="ignore"):
        straight = np.where(spring > 0, 1 / spring, np.inf)
    energy, names = found["energy"], np.array([*elastic.causes, ""])
    main = np.where(np.isfinite(found["frequency"]), energy.argmax(axis=-1), len(elastic.causes))
    values = {
        "q": rows, "compliance": total, "stiffness_matrix": inverted(total),
        "stiffness_along": straight[:, :3], "stiffness_about": straight[:, 3:],
        "frequency": found["frequency"], "mode_cause": names[main], "mode_energy": energy,
        "mode_motion": _direction(found["motion"], found["frequency"]),
    }  # fmt: skip
    joints = {"joint": np.array(model.joint_names), "joint_unit": run.joint_units(model)}
    motions = {"motion": np.array(_MOTIONS), "push": np.array(_MOTIONS), "mode": np.arange(1, modes + 1)}
    return make_dataset(
        "stiffness", {name: array.reshape((*batch, *array.shape[1:])) for name, array in values.items()},
        joints | motions | causes_of(subject), {"load_mass": load.mass} | not_counted(subject) | labels,
        inputs_digest, arm_name,
    )  # fmt: skip


def inverted(compliance: run.Floats) -> run.Floats:
    """Stiffness matrices, (rows, 6, 6); NaN where the tool is rigid in some way, so that there is none. Turns and
    shifts are first brought to one scale, so that the unit of length decides nothing."""
    scale = np.sqrt(np.einsum("rii->ri", compliance))
    out = np.full_like(compliance, np.nan)
    for row, (matrix, by) in enumerate(zip(compliance, scale, strict=True)):
        if not (by > 0).all():
            continue
        scaled = matrix / np.outer(by, by)
        values = np.linalg.eigvalsh(scaled)
        if values[0] > _SINGULAR * values[-1]:
            out[row] = np.linalg.inv(scaled) / np.outer(by, by)
    return out


def _direction(motion: run.Floats, frequency: run.Floats) -> Any:
    """Where the tool point goes in a mode; nowhere: "at rest"; in words."""
    words = np.full(motion.shape[:2], "", dtype="U40")
    for place in np.ndindex(*words.shape):
        if not np.isfinite(frequency[place]):
            continue
        shift = motion[place][:3]
        size = np.linalg.norm(shift)
        if size <= 1e-12:
            words[place] = "turns on the spot"
            continue
        lead = int(np.argmax(np.abs(shift)))
        x, y, z = shift / size * np.sign(shift[lead])
        words[place] = f"({x:.2f}, {y:.2f}, {z:.2f})".replace("-0.00", "0.00")
    return words


def _prepare(subject: Subject, load: run.Floats, modes: int) -> pieces.Compute:
    model, elastic = subject.model, subject.elastic
    carried = _core.model.Inertia(float(load[0]), load[1:4], load[4:].reshape(3, 3))

    def compute(q: run.Floats, threads: int, report: run.Report | None) -> run.Arrays:
        rows = np.ascontiguousarray(q)
        complete, frequency, energy, motion = _core.dynamics.natural_frequencies(
            model, elastic.shaken, carried, modes, rows, threads, report
        )
        run.finished(complete)
        compliance = _core.dynamics.tool_compliance(model, elastic.still, rows)
        return {"compliance": compliance, "frequency": frequency, "energy": energy, "motion": motion}

    return compute
