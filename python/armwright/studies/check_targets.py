"""Every work point: its best posture, or what stands in the way and by how much."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright import _core
from armwright.compile import target_specs
from armwright.errors import InputError
from armwright.results import make_dataset
from armwright.studies import defaults, pieces, run
from armwright.studies.payload_map import limit_of
from armwright.studies.subject import Subject


class Answer(NamedTuple):
    """What the core tells of a work point (TargetAnswer), apart from the posture."""

    outcome: int
    has_posture: bool
    limit_margin: float
    manipulability: float
    distance: float
    solid_a: int
    solid_b: int
    payload: float
    payload_joint: int
    holds_itself: bool
    postures: int
    shortfall: float
    too_near: bool
    limit_joint: int
    excess: float
    obstacle_distance: float
    obstacle_required: float
    obstacle_a: int
    obstacle_b: int


def check_targets(
    subject: Subject,
    described: Sequence[Any],
    *,
    centre: run.Floats | None,
    kept: Mapping[str, float],
    margin: float,
    limit: str,
    order: Sequence[str],
    track_step: float | None,
    how: pieces.How,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.check_targets. ``described``: the work points; ``kept``: the clearance that each fixture wants, m."""
    need_targets(described)
    model, targets = subject.model, target_specs(subject.description, described, centre)
    merits = [merit.name for merit in order_of(order)]
    along = run.track_step_of(subject.inverse, defaults.track_step if track_step is None else track_step)
    limit_for(model, limit, targets)
    request = {"targets": described, "centre": centre, "margin": margin, "limit": limit, "order": merits}
    found = pieces.run_pieces(
        _prepare, (subject, tuple(described), centre, margin, along, limit, merits), np.arange(len(targets)),
        study="check_targets", inputs_digest=inputs_digest, request=request | {"track_step": along}, how=how,
    )  # fmt: skip
    answers = [Answer(*values) for values in zip(*(found[name].tolist() for name in Answer._fields), strict=True)]
    rows = []
    for one, target, answer, q in zip(described, targets, answers, found["q"], strict=True):
        names = [*subject.solids_with(one.load).solid_names, ""]
        wanted = max(margin, distance_kept(kept, names[answer.solid_a], names[answer.solid_b]))
        rows.append({"q": q} | row_of(model, target.mass, answer, names, wanted, limit))
    variables: dict[str, Any] = {key: np.array([row[key] for row in rows]) for key in rows[0]}
    variables |= where_asked(model, targets, variables["q"])
    joints = {"joint": np.array(model.joint_names), "joint_unit": run.joint_units(model)}
    return make_dataset(
        "check_targets",
        variables,
        {"target": np.array([target.name for target in targets])} | joints,
        {"limit": limit, "order": ", ".join(merits), "track_step": along} | labels,
        inputs_digest,
        arm_name,
    )


def _prepare(
    subject: Subject, described: tuple[Any, ...], centre: run.Floats | None, margin: float, along: float, limit: str,
    order: list[str],
) -> pieces.Compute:  # fmt: skip
    model, targets = subject.model, target_specs(subject.description, described, centre)
    which, merits = limit_for(model, limit, targets), order_of(order)
    scenes = [subject.solids_with(target.load) for target in described]
    searches = {
        key: _core.studies.make_search(subject.inverse, scene, margin, along, run.turn_step)
        for key, scene in {id(scene): scene for scene in scenes}.items()
    }

    def compute(places: NDArray[np.int64], threads: int, report: run.Report | None) -> run.Arrays:
        answers: dict[int, _core.studies.TargetAnswer] = {}
        groups: dict[int, list[int]] = {}  # with the same solids
        for place in places.tolist():
            groups.setdefault(id(scenes[place]), []).append(place)
        for part, (key, group) in enumerate(groups.items()):
            here = [targets[place] for place in group]
            told = run.part_of(report, part, len(groups))
            some = _core.studies.check_targets(searches[key], here, which, run.turn_step, merits, threads, told)
            run.finished(len(some) == len(here))
            answers |= zip(group, some, strict=True)
        return _arrays(model, [answers[place] for place in places.tolist()])

    return compute


def _arrays(model: _core.model.Model, answers: list[_core.studies.TargetAnswer]) -> run.Arrays:
    found = {name: np.array([getattr(answer, name) for answer in answers]) for name in Answer._fields[1:]}
    found["outcome"] = np.array([int(answer.outcome) for answer in answers])
    postures = np.array([answer.q[: model.joint_count] for answer in answers])
    found["q"] = np.where(found["has_posture"][:, None], postures, np.nan)
    return found


def where_asked(
    model: _core.model.Model, targets: Sequence[_core.model.TargetSpec], q: run.Floats
) -> dict[str, run.Floats]:
    """What was asked of each work point, and how far from it the tool stands at ``q`` (NaN without a posture)."""
    position = np.array([target.pose[:3, 3] for target in targets])
    off = np.linalg.norm(_core.kinematics.tool_poses(model, np.nan_to_num(q))[:, :3, 3] - position, axis=1)
    return {
        "position": position,
        "position_error": np.where(np.isnan(q).any(axis=1), np.nan, off),
        "payload_wanted": np.array([target.mass for target in targets]),
        "load_centre": np.array([target.load_centre for target in targets]),
    }


def limit_for(model: _core.model.Model, limit: str, targets: Sequence[_core.model.TargetSpec]) -> _core.limits.Limit:
    """Which torque counts. Where no joint states one it does not matter, unless something is to be held."""
    limited = np.isfinite(model.torque_continuous if limit == "continuous" else model.torque_peak).any()
    loaded = any(target.mass > 0 for target in targets)
    known = limit in ("continuous", "peak")
    return limit_of(model, limit) if limited or loaded or not known else _core.limits.Limit.continuous


def order_of(order: Sequence[str]) -> list[_core.studies.Merit]:
    """What makes a posture the best, first things first."""
    known = {name: getattr(_core.studies.Merit, name) for name in (*defaults.order, *defaults.also)}
    words: list[Any] = [order] if isinstance(order, str) or not hasattr(order, "__iter__") else list(order)
    wrong = [word for word in words if not isinstance(word, str) or word not in known]
    if wrong or not words or len(set(words)) != len(words):
        raise InputError.of(
            "order", ", ".join(map(str, words)) or "nothing", "some of " + ", ".join(known) + ", each once"
        )
    return [known[word] for word in words]


def row_of(
    model: _core.model.Model,
    wanted: float,
    answer: Answer,
    names: list[str],
    kept: float,
    limit: str,
) -> dict[str, Any]:
    """One work point's share of the result."""
    found = answer.has_posture
    joints = [*model.joint_names, ""]
    served = answer.outcome == int(_core.studies.Outcome.served)

    def known(value: float) -> float:
        return value if found else math.nan

    return {
        "served": served,
        "reason": "" if served else reason_of(model, wanted, answer, names, limit),
        "limit_margin": known(answer.limit_margin),
        "manipulability": known(answer.manipulability),
        "clearance": known(answer.distance),
        "clearance_wanted": known(kept),
        "clearance_name_a": names[answer.solid_a] if found else "",
        "clearance_name_b": names[answer.solid_b] if found else "",
        "payload": known(answer.payload),
        "payload_joint": joints[answer.payload_joint] if found else "",
        "payload_part": _part_of(model, answer, limit) if found else "",
        "solutions": answer.postures,
    }


def reason_of(
    model: _core.model.Model,
    wanted: float,
    answer: Answer | _core.studies.TargetAnswer,
    names: list[str],
    limit: str,
) -> str:
    """In words, why a work point is not served, and by how much."""
    outcome, kinds = _core.studies.Outcome(answer.outcome), _core.studies.Outcome
    if outcome == kinds.out_of_reach:
        if not math.isfinite(answer.shortfall):
            return "cannot be reached in this attitude from anywhere on the line to the arm"
        return f"{'too near' if answer.too_near else 'out of reach'} by {_lengths(answer.shortfall)}"
    if outcome == kinds.beyond_limits:
        turns = model.joint_kinds[answer.limit_joint] != _core.model.JointKind.prismatic
        excess = f"{math.degrees(answer.excess):.3g}°" if turns else _lengths(answer.excess)
        return f"{model.joint_names[answer.limit_joint]} past its limit by {excess}"
    if outcome == kinds.obstructed:
        a, b = names[answer.obstacle_a], names[answer.obstacle_b]
        return obstruction(a, b, answer.obstacle_distance, answer.obstacle_required)
    joint = model.joint_names[answer.payload_joint] if answer.payload_joint >= 0 else "no joint"
    part = _part_of(model, answer, limit)
    which = f"{part}, {limit}" if part not in ("", "stated") else limit
    if not answer.holds_itself:
        return f"{joint} cannot hold the arm itself ({which})"
    return f"{wanted:.6g} kg wanted and {math.floor(answer.payload * 100) / 100:.6g} kg held ({joint}, {which})"


def need_targets(described: Sequence[Any]) -> None:
    """Refuses a study of work points where there are none."""
    if not described:
        raise InputError.of("targets", "none", "at least one work point, as a [[target]] of the cell's file")


def distance_kept(kept: Mapping[str, float], a: str, b: str) -> float:
    """What two solids have to keep between them besides the margin, m, by what each fixture wants."""
    return max(kept.get(a, 0.0), kept.get(b, 0.0))


def obstruction(a: str, b: str, distance: float, required: float) -> str:
    """In words, what stands in the way: ``a`` is ``distance`` from ``b`` (less than 0: overlaps it) and has to be
    ``required`` from it, m."""
    if distance <= 0:
        return f"{b} overlapped by {_lengths(-distance)} ({a})"
    kept, asked = _lengths(distance), _lengths(required)
    if kept == asked:  # short by less than is shown
        kept, asked = f"{1000 * distance:.3f} mm", f"{1000 * required:.3f} mm"
    return f"{a} {kept} from {b}, {asked} wanted"


def _part_of(model: _core.model.Model, answer: Answer | _core.studies.TargetAnswer, limit: str) -> str:
    """What sets the torque of the joint that gives out first."""
    names, place_of = run.parts_of(model, limit)
    place = place_of[answer.payload_joint]
    return str(names[place]) if place >= 0 else ""


def _lengths(metres: float) -> str:
    if 0 < metres < 5e-5:
        return "less than 0.1 mm"
    return f"{1000 * metres:.0f} mm" if metres >= 0.01 else f"{1000 * metres:.1f} mm"
