"""Which motor can be reached and taken out, and in which posture."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import xarray as xr

from armwright import _core
from armwright.compile import build_volume
from armwright.results import make_dataset
from armwright.studies import pieces, run
from armwright.studies.cutting import go_on
from armwright.studies.subject import Subject

caution = (
    "Before a motor comes out: power off, locked and tagged, stored energy let out, counterbalance springs blocked. "
    "With the motor its axis loses what holds it, most often its brake too: prop what is beyond it against "
    "unheld_torque, and the motor against its own weight."
)


def service(
    subject: Subject,
    q: run.Floats,
    batch: tuple[int, ...],
    *,
    margin: float,
    samples: int,
    missing: Sequence[str],
    how: pieces.How,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.service. ``q``: (rows, joints); ``batch``: the shape that its rows have."""
    model, volumes = subject.model, subject.description.service
    with (
        how.opened("service", inputs_digest, {"q": q, "margin": margin, "samples": samples}) as work,
        run.reported(how.progress, "service volumes") as report,
    ):
        found = work.run("volumes", _prepare, (subject, q, margin, samples), np.arange(len(volumes)), report)
    joints = list(model.joint_names)
    held = np.array([_held_without(subject, joints.index(item.motor)) for item in volumes], dtype=bool)
    each = {key: np.moveaxis(found[f"at_{key}"], 0, 1) for key in _KEYS}
    variables: dict[str, Any] = {key: values.reshape((*batch, *values.shape[1:])) for key, values in each.items()}
    variables |= {f"best_{key}": found[f"best_{key}"] for key in _KEYS}
    variables |= {
        "q": q.reshape((*batch, len(joints))), "best_q": found["best_q"], "clear_share": found["clear_share"],
        "free_share": found["free_share"], "held_without_motor": held,
        "motor_mass": np.array([np.nan if item.mass is None else float(item.mass) for item in volumes]),
        "motor": np.array([item.motor for item in volumes], dtype=np.str_),
        "link": np.array([item.link for item in volumes], dtype=np.str_),
    }  # fmt: skip
    coords = {
        "joint": np.array(joints), "joint_unit": run.joint_units(model), "xyz": np.array(["x", "y", "z"]),
        "volume": np.array([item.name for item in volumes], dtype=np.str_),
    }  # fmt: skip
    untold = "\n".join([*missing, *_missing(subject)])
    attrs = {"margin": margin, "samples": samples, "caution": caution, "missing": untold}
    return make_dataset("service", variables, coords, attrs | labels, inputs_digest, arm_name)


_KEYS = ("distance", "nearest", "free", "arm_clearance", "unheld_torque", "way_out")


def _drives(subject: Subject) -> list[Any]:
    described = subject.description
    drives = [joint.drive for joint in described.arm.joints]
    return drives if described.track is None else [described.track.drive, *drives]


def _held_without(subject: Subject, joint: int) -> bool:
    """Whether a brake at the joint itself stays when the motor goes."""
    drive = _drives(subject)[joint]
    return drive is not None and drive.brake is not None and drive.brake.side == "joint"


def _missing(subject: Subject) -> list[str]:
    volumes = subject.description.service
    told = {item.motor for item in volumes}
    out = [f"{name}: no service volume for its motor"
           for name, drive in zip(subject.model.joint_names, _drives(subject), strict=True)
           if drive is not None and name not in told]  # fmt: skip
    out += [f"{item.name}: the way out is not told" for item in volumes if item.direction is None]
    return out + [f"{item.name}: the motor's mass is not told" for item in volumes if item.mass is None]


def unloaded(subject: Subject) -> Subject:
    """The same cell with nothing carried: so it is serviced."""
    if subject.description.load is None:
        return subject
    load = subject.description.load
    names = {load.name, *(shape.name for shape in load.shapes)}
    kept = tuple(pair for pair in subject.description.ignored_pairs if not names & set(pair))
    return Subject(replace(subject.description, load=None, ignored_pairs=kept))


def _prepare(subject: Subject, q: run.Floats, margin: float, samples: int) -> pieces.Compute:
    bare = unloaded(subject)
    model = bare.model
    spread = _core.clearance.spread_postures(model, samples)
    clear = np.asarray(_core.clearance.are_clear(bare.solids, model, spread, 0.0), dtype=bool)

    def compute(items: Any, threads: int, report: run.Report | None) -> run.Arrays:
        rows = []
        for item in items:
            rows.append(_volume(bare, int(item), q, spread, clear, margin))
            go_on(report, len(rows), len(items))
        return {key: np.stack([row[key] for row in rows]) for key in rows[0]}

    return compute


def _volume(subject: Subject, item: int, q: run.Floats, spread: run.Floats, clear: Any, margin: float) -> run.Arrays:
    """One volume in the postures asked about, and in the best of those spread over the joint ranges."""
    volume = build_volume(subject.spec, subject.model, *_of(subject, item))
    given = _at(subject, item, volume, q, margin)
    tried = spread[clear]
    found = {f"at_{key}": values for key, values in given.items()}
    found["clear_share"] = np.asarray(float(np.mean(clear)))
    if not len(tried):
        empty = {"best_q": np.full(q.shape[1], np.nan), "free_share": np.asarray(np.nan)}
        return found | empty | {f"best_{key}": _nothing(values) for key, values in given.items()}
    distance = _core.clearance.volume_distances(volume, subject.model, np.ascontiguousarray(tried))[0]
    free = _is_free(distance, margin)
    # Of free postures the one in which the axis is least loaded; else the one that falls least short.
    load = np.abs(_unheld(subject, item, tried))
    place = int(np.lexsort((load, np.where(free, 0.0, -distance)))[0])
    best = _at(subject, item, volume, tried[place : place + 1], margin)
    found |= {"free_share": np.asarray(float(np.mean(free))), "best_q": tried[place]}
    return found | {f"best_{key}": values[0] for key, values in best.items()}


def _of(subject: Subject, item: int) -> tuple[str, Any]:
    told = subject.description.service[item]
    return told.link, told.shapes


def _is_free(distance: run.Floats, margin: float) -> Any:
    """What only touches is not free."""
    return (distance >= margin) & (distance > 0)


def _unheld(subject: Subject, item: int, rows: run.Floats) -> run.Floats:
    """What the axis of the motor has to hold in each posture, through the coupling, N m (N)."""
    model = subject.model
    torque = _core.dynamics.gravity_torques(model, model.load, np.ascontiguousarray(rows))
    axis = list(model.joint_names).index(subject.description.service[item].motor)
    return np.asarray(torque @ subject.coupling[:, axis])


def _nothing(values: run.Floats) -> Any:
    """What is told of a posture where there is none."""
    empty: Any = {"b": False, "U": ""}.get(values.dtype.kind, np.nan)
    return np.full(values.shape[1:], empty, dtype=values.dtype)


def _at(subject: Subject, item: int, volume: _core.clearance.Volume, q: run.Floats, margin: float) -> run.Arrays:
    """How near anything comes to a volume in each posture, (rows, joints), and what its axis then has to hold."""
    model, told = subject.model, subject.description.service[item]
    rows = np.ascontiguousarray(q)
    distance, _, _, solids = _core.clearance.volume_distances(volume, model, rows)
    names = np.array([*volume.solid_names, ""], dtype=np.str_)
    return {
        "distance": distance,
        "nearest": names[solids[:, 1]].astype("<U120"),
        "free": _is_free(distance, margin),
        "arm_clearance": _core.clearance.least_distances(subject.solids, model, rows)[0],
        "unheld_torque": _unheld(subject, item, rows),
        "way_out": _way_out(subject, told, rows),
    }


def _way_out(subject: Subject, told: Any, rows: run.Floats) -> run.Floats:
    """The way out in the world; NaN where it is not told."""
    if told.direction is None:
        return np.full((len(rows), 3), np.nan)
    described, model = subject.description, subject.model
    first = 0 if described.track is None else 1
    turns = _core.kinematics.link_poses(model, rows)[..., :3, :3]
    if described.track is not None and told.link == described.track.carriage.name:
        return np.asarray(turns[:, 0] @ np.asarray(described.track.carriage.frame)[:3, :3].T @ told.direction)
    at = described.arm.link_names.index(told.link) - 1
    if at >= 0:
        frame = np.asarray(described.arm.links[at].frame)[:3, :3]
        return np.asarray(turns[:, first + at] @ frame.T @ told.direction)
    base = np.asarray(described.mount)[:3, :3]
    if described.track is not None:
        base = np.asarray(described.track.pose)[:3, :3] @ base
    return np.broadcast_to(base @ told.direction, (len(rows), 3)).copy()
