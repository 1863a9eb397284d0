"""How the arm hangs from its lifting eyes, and in which posture it hangs level."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np
import xarray as xr

from armwright import _core
from armwright.results import make_dataset
from armwright.studies import pieces, run
from armwright.studies.cutting import go_on
from armwright.studies.subject import Subject

starts = 2000  # postures from which a level one is sought
_ROUNDS = 60
_STEP = 1e-6  # rad or m, of slopes
_MOST = 0.3  # rad or m, of a joint in one round
_LEVEL, _STUCK = 1e-10, 1e5  # half a tilt, rad, that is as good as none; damping at which nothing is gained any more
_NOTHING = 1e-6  # N m; less is rounding
_looked_at, _at_once = 400, 20  # postures asked whether the arm is clear of itself
_ENOUGH = 10.0  # a brake that holds so many times what it has to counts no better for more
caution = (
    "Hoist with rated gear only, from the stated centre of gravity, after a trial lift by a hand's breadth; brakes "
    "closed and joints blocked besides; nobody under a hanging load; to local codes, by licensed riggers. A hoist "
    "jerks: what the eye and the brakes bear has to be more than the weight at rest."
)
assumed = (
    "The arm hangs by one eye alone, loose from its foot, with its base link and, where they are there, its tool; "
    "without load, track, cables and what else is not described. Joints stand still. Upright is as it is mounted."
)


def lifting(
    subject: Subject,
    up: run.Floats,
    q: run.Floats,
    *,
    level: float,
    missing: Sequence[str],
    how: pieces.How,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.lifting. ``subject``: what is lifted, as ``lifted`` has it; ``q``: one posture of the arm's joints."""
    model, eyes = subject.model, subject.description.lifting
    known = _brakes(model)
    with (
        how.opened("lifting", inputs_digest, {"q": q, "up": up, "level": level}) as work,
        run.reported(how.progress, "level postures") as report,
    ):
        found = work.run("level", _prepare, (subject, up, q, level), np.arange(len(eyes)), report)
    eye, sought = ({key: found[f"{kind}_{key}"] for key in _KEYS} for kind in ("given", "level"))
    parts = _parts(subject, q)
    names = parts.pop("part")
    mass = float(parts["part_mass"].sum())
    gravity = float(np.linalg.norm(model.gravity))
    rated = np.array([np.nan if item.rated_mass is None else float(item.rated_mass) for item in eyes])
    centre = (parts["part_mass"][:, None] * parts["part_centre"]).sum(axis=0) / mass
    variables: dict[str, Any] = parts | {
        "q": q, "centre": centre, "brake_torque": known, "rated_mass": rated,
        "eye_safety": rated / mass, "level_found": found["level_found"], "level_q": found["level_q"],
        "level_clearance": found["level_clearance"], "level_centre": found["level_centre"],
    }  # fmt: skip
    for prefix, told in (("", eye), ("level_", sought)):
        variables |= {f"{prefix}{key}": values for key, values in told.items()}
    coords = {
        "joint": np.array(model.joint_names), "joint_unit": run.joint_units(model), "xyz": np.array(["x", "y", "z"]),
        "eye": np.array([item.name for item in eyes], dtype=np.str_),
        "part": np.array(names, dtype=np.str_),
    }  # fmt: skip
    attrs = {
        "mass": mass, "weight": mass * gravity, "level_angle": level, "up": up.tolist(), "caution": caution,
        "assumed": assumed, "missing": "\n".join([*missing, *_missing(subject, known)]),
    }  # fmt: skip
    return make_dataset("lifting", variables, coords, attrs | labels, inputs_digest, arm_name)


_KEYS = ("tilt", "sinks_towards", "eye_point", "hung_torque", "brake_factor", "holds")


def _brakes(model: _core.model.Model) -> run.Floats:
    """What the brakes hold at their joints by their ratios, N m (N); NaN without one."""
    told = [_core.stops.brake_hold(model, axis) for axis in range(model.joint_count)]
    return np.array([np.nan if hold is None else hold[0] for hold in told])


def _missing(subject: Subject, brakes: run.Floats) -> list[str]:
    arm, tool = subject.description.arm, subject.description.tool
    told = [] if subject.description.lifting else ["no lifting eye is described"]
    told += [f'eye "{eye.name}": no rated mass told' for eye in subject.description.lifting if eye.rated_mass is None]
    told += [f"{link.name}: no mass told, counted as 0 kg" for link in (arm.base_link, *arm.links) if not link.mass > 0]
    if tool is not None and not tool.mass > 0:
        told.append(f"{tool.name}: no mass told, counted as 0 kg")
    told += [f"{item.name}: its own mass is not described" for item in arm.counterbalances if item.kind != "mass"]
    names = subject.model.joint_names
    return told + [f"{name}: no brake" for name, hold in zip(names, brakes, strict=True) if np.isnan(hold)]


def _parts(subject: Subject, q: run.Floats) -> dict[str, Any]:
    """Mass and centre of gravity of every part, in the base's frame."""
    spec, model = subject.spec, subject.model
    arm = subject.description.arm
    frames = _core.kinematics.link_poses(model, q[None])[0]  # the frames that links are told in
    frames = [frame @ np.linalg.inv(link.frame) for frame, link in zip(frames, arm.links, strict=True)]
    rows = [(arm.base_link.name, spec.arm.base_link.inertia, np.eye(4))]
    rows += [(link.name, told.inertia, frame)
             for link, told, frame in zip(arm.links, spec.arm.links, frames, strict=True)]  # fmt: skip
    if subject.description.tool is not None:
        rows.append((subject.description.tool.name, spec.tool.inertia, frames[-1] @ np.asarray(arm.flange)))
    return {
        "part": [name for name, _, _ in rows],
        "part_mass": np.array([body.mass for _, body, _ in rows]),
        "part_centre": np.array([(at @ (*body.centre, 1.0))[:3] for _, body, at in rows]),
    }


def _prepare(subject: Subject, up: run.Floats, q: run.Floats, level: float) -> pieces.Compute:
    brakes = _brakes(subject.model)

    def compute(items: Any, threads: int, report: run.Report | None) -> run.Arrays:
        rows = []
        for item in items:
            rows.append(_eye(subject, int(item), up, q, level, brakes))
            go_on(report, len(rows), len(items))
        if rows:
            return {key: np.stack([row[key] for row in rows]) for key in rows[0]}
        return {key: np.zeros((0, *shape), dtype=kind) for key, (shape, kind) in _empty(len(q)).items()}

    return compute


def _empty(n: int) -> dict[str, tuple[tuple[int, ...], type]]:
    """Shape and kind of what is told of an eye, where there is none."""
    each: dict[str, tuple[tuple[int, ...], type]] = {
        "tilt": ((), float), "sinks_towards": ((3,), float), "eye_point": ((3,), float), "hung_torque": ((n,), float),
        "brake_factor": ((n,), float), "holds": ((), bool), "centre": ((3,), float),
    }  # fmt: skip
    both = {f"{prefix}_{key}": told for prefix in ("given", "level") for key, told in each.items()}
    return both | {"level_q": ((n,), float), "level_found": ((), bool), "level_clearance": ((), float)}


class Hung(NamedTuple):
    """Postures as they hang: rows of each."""

    tilt: run.Floats
    centre: run.Floats
    point: run.Floats
    torque: run.Floats  # of axes: through the coupling, where drives run through one another


def hung(subject: Subject, item: int, up: run.Floats, q: run.Floats) -> Hung:
    """How the arm hangs by an eye in each posture, (rows, joints)."""
    model, eye = subject.model, subject.description.lifting[item]
    at = subject.description.arm.link_names.index(eye.link) - 1
    point = np.asarray(eye.point)
    if at >= 0:
        point = (model.link_frames[at] @ (*point, 1.0))[:3]
    rows = np.ascontiguousarray(q)
    hanging = Hung(*_core.dynamics.hang(model, subject.spec.arm.base_link.inertia, at, point, up, rows))
    return hanging._replace(torque=hanging.torque @ subject.coupling)


def _eye(subject: Subject, item: int, up: run.Floats, q: run.Floats, level: float, brakes: run.Floats) -> run.Arrays:
    given = _told("given_", hung(subject, item, up, q[None]), up, brakes)
    tried = _levelled(subject, item, up, q)
    best, clearance = _best(subject, item, up, tried, level, brakes)
    told = _told("level_", hung(subject, item, up, best[None]), up, brakes)
    tilt = told["level_tilt"]
    found = np.asarray(bool(tilt <= level))
    return given | told | {"level_q": best, "level_found": found, "level_clearance": np.asarray(clearance)}


def _told(prefix: str, hanging: Hung, up: run.Floats, brakes: run.Floats) -> run.Arrays:
    """Of one posture: what the result tells of it."""
    below = hanging.centre[0] - hanging.point[0]
    across = below - up * (below @ up)
    off = float(np.linalg.norm(across))
    torque = hanging.torque[0]
    factor = _factors(hanging.torque, brakes)[0]
    held = {
        "tilt": hanging.tilt[0],
        "sinks_towards": across / off if off > 1e-9 else np.full(3, np.nan),
        "eye_point": hanging.point[0],
        "centre": hanging.centre[0],
        "hung_torque": torque,
        "brake_factor": factor,
        "holds": bool(np.all(np.where(np.isnan(brakes), np.abs(torque) <= _NOTHING, factor >= 1))),
    }
    return {prefix + key: np.asarray(value) for key, value in held.items()}


def _factors(torque: run.Floats, brakes: run.Floats) -> run.Floats:
    """What each brake holds over what it has to; NaN without a brake, infinite with nothing to hold."""
    with np.errstate(divide="ignore", invalid="ignore"):
        factor = np.where(np.abs(torque) > _NOTHING, brakes / np.abs(torque), np.inf)
    return np.where(np.isnan(brakes) | np.isnan(torque), np.nan, factor)


def _levelled(subject: Subject, item: int, up: run.Floats, q: run.Floats) -> run.Floats:
    """Postures that hang level, or as little tilted as each start leads to, within the joint ranges: Levenberg and
    Marquardt on the two parts of tan(tilt / 2) across the upright, which grows with the tilt all the way."""
    model = subject.model
    lower, upper = np.array(model.lower), np.array(model.upper)
    rows = np.vstack([np.clip(q, lower, upper), _core.clearance.spread_postures(model, starts)])
    across = _square_to(up)

    def lean(at: run.Floats) -> run.Floats:
        hanging = hung(subject, item, up, at)
        below = hanging.centre - hanging.point
        size = np.linalg.norm(below, axis=1) - below @ up
        return np.asarray(below @ across) / np.maximum(size, 1e-9)[:, None]

    left, now = np.arange(len(rows)), lean(rows)  # those that are not level yet, and may come nearer to it
    damping = np.full(len(rows), 1e-3)
    for _ in range(_ROUNDS):
        at = rows[left]
        steps = _STEP * np.where(at[:, :, None] + _STEP > upper[:, None], -1.0, 1.0) * np.eye(len(q))
        slopes = np.stack(
            [(lean(at + steps[:, j]) - now[left]) / steps[:, j, j, None] for j in range(len(q))], axis=2
        )
        tried = np.clip(at + _step(at, slopes, now[left], damping[left], lower, upper), lower, upper)
        then = lean(tried)
        better = (then**2).sum(axis=1) < (now[left] ** 2).sum(axis=1)
        rows[left[better]], now[left[better]] = tried[better], then[better]
        damping[left] = np.clip(np.where(better, 0.3 * damping[left], 5 * damping[left]), 1e-12, None)
        left = left[((now[left] ** 2).sum(axis=1) > _LEVEL**2) & (damping[left] < _STUCK)]
        if not len(left):
            break
    return rows


def _step(
    at: run.Floats, slopes: run.Floats, lean: run.Floats, damping: run.Floats, lower: run.Floats, upper: run.Floats
) -> run.Floats:
    """The damped least-squares step of each row, joints at an end that would go on held there."""
    rise = (slopes * lean[:, :, None]).sum(axis=1)
    held = ((at <= lower) & (rise > 0)) | ((at >= upper) & (rise < 0))
    slopes = np.where(held[:, None, :], 0.0, slopes)
    square = slopes @ slopes.transpose(0, 2, 1) + damping[:, None, None] * np.eye(2)
    change = -(slopes * np.linalg.solve(square, lean[:, :, None])).sum(axis=1)
    longest = np.abs(change).max(axis=1, keepdims=True)
    return np.asarray(change * np.minimum(1.0, _MOST / np.maximum(longest, 1e-12)))


def _square_to(up: run.Floats) -> run.Floats:
    """Two directions square to one another and to ``up``, as columns."""
    _, _, rows = np.linalg.svd(up[None])
    return np.asarray(rows[1:].T)


def _best(
    subject: Subject, item: int, up: run.Floats, tried: run.Floats, level: float, brakes: run.Floats
) -> tuple[run.Floats, float]:
    """The posture to be lifted in, and how far the arm then is from itself. First those that hang level, with all
    brakes that are known strong enough; then what asks least of brakes and of axes without any; where none is level,
    the least tilted. Of these the first that is clear of itself, or, if none of the first ``_looked_at`` is, the one
    that overlaps least among the first few."""
    hanging = hung(subject, item, up, tried)
    factor = np.where(np.isnan(brakes), np.inf, _factors(hanging.torque, brakes)).min(axis=1)
    loose = np.where(np.isnan(brakes), np.abs(hanging.torque), 0.0).max(axis=1)
    is_level = hanging.tilt <= level
    order = np.lexsort((
        np.round(loose, 6), -np.round(np.minimum(factor, _ENOUGH), 6), factor < 1,
        np.where(is_level, 0.0, np.round(hanging.tilt, 6)),
    ))[:_looked_at]  # fmt: skip
    rows = np.ascontiguousarray(tried[order])
    for start in range(0, len(rows), _at_once):
        some = np.ascontiguousarray(rows[start : start + _at_once])
        clear = np.asarray(_core.clearance.are_clear(subject.solids, subject.model, some, 0.0), dtype=bool)
        if clear.any():
            place = some[int(np.argmax(clear))]
            return place, float(_core.clearance.least_distances(subject.solids, subject.model, place[None])[0][0])
    distance = _core.clearance.least_distances(subject.solids, subject.model, rows[:_at_once])[0]
    best = int(np.argmax(distance))
    return rows[best], float(distance[best])
