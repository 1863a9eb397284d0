"""What every bearing bears over rows of loading: static safety by ISO 76, life by ISO 281, the span a pair needs."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import xarray as xr

from armwright import _core
from armwright.results import make_dataset
from armwright.results.bearing_variables import BEARING_KINDS, PLACES
from armwright.studies import run
from armwright.studies.bearing_parts import Part, bearing_parts
from armwright.studies.load_rows import LoadRows
from armwright.studies.run import Floats

_elements, _limits = _core.elements, _core.limits
_TURN = 2 * math.pi
_SLOW = 10 / 60 * _TURN  # rad/s
_LINE_POINTS = 41
caution = (
    "Counted is what links, tool, load and counterbalances put on a joint. Pull of a belt, chain or gear at the joint, "
    "rotors' moments, mounting, lubrication, dirt, vibration at rest and shocks beyond the rows are not; a maker's own "
    "calculation goes before this one."
)


def bearings(
    model: _core.model.Model,
    arm: Any,
    rows: LoadRows,
    wrench: Floats,
    *,
    reliability: float,
    wanted_static: float | None,
    wanted_life: float | None,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.bearings. ``wrench``: joint wrenches of the rows, (rows, joints, 6)."""
    told = bearing_parts(arm, model.joint_count - len(arm.joints))
    flags: list[str] = []
    answers: list[dict[str, Any]] = []
    for part in told.parts:
        answers += _part(part, rows, wrench, reliability, wanted_static, wanted_life, flags)
    names = np.array(model.joint_names)
    attrs: dict[str, Any] = {
        "reliability": reliability,
        "reliability_factor": _elements.reliability_factor(reliability),
        "row_count": len(rows.q),
        "duty_time": float(rows.duty.sum()),
        "missing": "\n".join([*rows.missing, *told.missing, *_no_duty(rows)]),
        "flags": "\n".join(flags),
        "caution": caution,
        **_weakest(answers),
    }
    if wanted_life is not None:
        attrs["wanted_life"] = wanted_life
    assumed = [line for line in (labels.get("assumptions", ""), *told.assumed) if line]
    if assumed:
        labels = labels | {"assumptions": "\n".join(assumed)}
    variables = {name: _stacked(answers, name, blank, model.joint_count) for name, blank in _BLANKS.items()}
    variables |= _lines(told.parts, answers, model.joint_count)
    return make_dataset(
        "bearings", variables,
        {"bearing": np.array([a["name"] for a in answers], np.str_), "joint": names,
         "joint_unit": run.joint_units(model)},
        attrs | labels, inputs_digest, arm_name,
    )  # fmt: skip


# Every variable over (bearing), with what stands for its kind where there is no bearing at all.
_BLANKS: dict[str, Any] = {
    "bearing_joint": 0, "bearing_place": 0, "bearing_kind": 0, "dynamic_rating": 0.0, "static_rating": 0.0,
    "greatest_radial": 0.0, "greatest_axial": 0.0, "greatest_moment": 0.0, "worst_radial": 0.0, "worst_axial": 0.0,
    "worst_moment": 0.0, "worst_case": "", "worst_time": 0.0, "worst_posture": None, "static_load": 0.0,
    "static_safety": 0.0, "moment_safety": 0.0, "line_safety": 0.0, "safety": 0.0, "wanted_static": 0.0,
    "needed_static_rating": 0.0, "mean_load": 0.0, "greatest_duty_load": 0.0, "greatest_life_load": 0.0,
    "revolutions": 0.0, "mean_speed": 0.0, "greatest_speed": 0.0, "swing": 0.0, "critical_swing": 0.0,
    "life_revolutions": 0.0, "life": 0.0, "modified_life": 0.0, "needed_dynamic_rating": 0.0, "life_valid": False,
    "offset": 0.0, "span": 0.0, "needed_span": 0.0, "limit_radial": 0.0,
}  # fmt: skip
_OF_JOINT = ("offset", "span", "needed_span", "limit_radial")


def _stacked(answers: list[dict[str, Any]], name: str, blank: Any, joints: int) -> Any:
    if name in _OF_JOINT:
        of_joint = np.full(joints, np.nan)
        for answer in answers:
            of_joint[answer["bearing_joint"]] = answer[name]
        return of_joint
    if blank is None:
        return np.array([a[name] for a in answers], float).reshape(len(answers), joints)
    return np.array([a[name] for a in answers], np.str_ if blank == "" else type(blank))


def _no_duty(rows: LoadRows) -> list[str]:
    return [] if rows.duty.sum() > 0 else ["nothing lasts: life is left out, and static safety alone is told"]


def _part(
    part: Part, rows: LoadRows, wrench: Floats, reliability: float, wanted_static: float | None,
    wanted_life: float | None, flags: list[str],
) -> list[dict[str, Any]]:  # fmt: skip
    """The answers for each place of a joint's bearing."""
    forces = np.ascontiguousarray(wrench[:, part.joint])
    q, qd = (np.ascontiguousarray(a[:, part.joint]) for a in (rows.q, rows.qd))
    duty_of = _limits.slewing_duty if part.places == ("single",) else _limits.pair_duty
    loads, duties = duty_of(part.core, part.axis, part.offset, forces, q, qd, rows.duty)
    wanted = _elements.advised_static_safety(part.rolling_kind) if wanted_static is None else wanted_static
    shared: dict[str, Any] = {"offset": part.offset, "span": math.nan, "needed_span": math.nan}
    if part.places != ("single",):
        shared["span"] = float(part.core.span)
        known = not np.isnan([c0 for _, c0 in part.ratings]).any() and not np.isnan(loads["static_equivalent"]).any()
        if known:
            shared["needed_span"] = _limits.needed_span(part.core, part.axis, part.offset, forces, wanted)
    axial = forces[:, :3] @ part.axis
    across = forces[:, :3] - axial[:, None] * part.axis
    radial = float(np.linalg.norm(across, axis=1).max(initial=0.0))
    shared |= {
        "limit_radial": radial, "bearing_joint": part.joint, "wanted_static": wanted,
        "bearing_kind": BEARING_KINDS.index(part.kind.replace(" ", "_")),
        "greatest_pull": float(np.abs(axial).max(initial=0.0)),
    }  # fmt: skip
    answers = []
    for k, place in enumerate(part.places):
        of_place = {name: values[:, k] for name, values in loads.items()}
        answer = shared | {"name": part.name if place == "single" else f"{part.name}, {place}"}
        answer |= {"bearing_place": PLACES.index(place), "dynamic_rating": part.ratings[k][0],
                   "static_rating": part.ratings[k][1]}  # fmt: skip
        answer |= _static(part, of_place, rows, answer, axial)
        answer |= _life(part, duties[k], answer, reliability, wanted_life, flags)
        answers.append(answer)
    return answers


def _over(rating: float, loads: Floats) -> Floats:
    """Safety of each row; NaN where rating or load is not known."""
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(np.isnan(loads) | math.isnan(rating), np.nan, np.where(loads > 0, rating / loads, np.inf))


def _static(part: Part, loads: dict[str, Floats], rows: LoadRows, answer: dict[str, Any], axial: Floats) -> Any:
    """Static safeties, and the row where the least of them is."""
    single = part.places == ("single",)
    p0, moment = loads["static_equivalent"], loads["moment"]
    safeties = {"static_safety": _over(answer["static_rating"], p0), "moment_safety": np.full(len(p0), np.nan),
                "line_safety": np.full(len(p0), np.nan)}  # fmt: skip
    if single:
        safeties["moment_safety"] = _over(part.moment_rating, moment)
        if part.limit_line is not None:
            force, limit = (list(map(float, side)) for side in zip(*part.limit_line, strict=True))
            safeties["line_safety"] = _elements.limit_line_safety(force, limit, axial, moment)
    together = np.fmin.reduce(list(safeties.values()))
    weights = -together if not np.isnan(together).any() else p0 if not np.isnan(p0).any() else moment
    worst = int(np.argmax(weights)) if len(weights) else 0
    return {name: float(np.min(values)) for name, values in safeties.items()} | {
        "safety": float(np.min(together)),
        "greatest_radial": float(np.max(loads["radial"])),
        "greatest_axial": float(np.max(loads["axial"])),
        "greatest_moment": float(np.max(moment)) if single else math.nan,
        "worst_radial": float(loads["radial"][worst]),
        "worst_axial": float(loads["axial"][worst]),
        "worst_moment": float(moment[worst]) if single else math.nan,
        "worst_case": str(rows.names_of(worst)),
        "worst_time": float(rows.time[worst]),
        "worst_posture": rows.q[worst],
        "static_load": float(np.max(p0)),
        "needed_static_rating": float(np.max(p0)) * answer["wanted_static"],
    }


def _life(
    part: Part, duty: _limits.BearingDuty, answer: dict[str, Any], reliability: float, wanted_life: float | None,
    flags: list[str],
) -> dict[str, Any]:  # fmt: skip
    """Life over the duty; NaN where it cannot be told, with the reason among the flags or in what is missing."""
    kind, name, dynamic = part.rolling_kind, answer["name"], answer["dynamic_rating"]
    exponent, factor = _elements.life_exponent(kind), _elements.reliability_factor(reliability)
    time, turned, critical = duty.time, duty.turned / _TURN, math.nan
    if part.element_count is not None:
        critical = _elements.critical_swing(kind, part.element_count)
    mean = _elements.mean_equivalent_load(duty.wear, duty.turned, exponent) if turned > 0 else math.nan
    limit = _elements.greatest_life_load(kind, dynamic, answer["static_rating"])
    told: dict[str, Any] = {
        "mean_load": mean, "greatest_duty_load": duty.greatest_equivalent if turned > 0 else math.nan,
        "greatest_life_load": limit, "revolutions": turned if time > 0 else math.nan,
        "mean_speed": duty.turned / time if time > 0 else math.nan,
        "greatest_speed": duty.greatest_speed if time > 0 else math.nan,
        "swing": duty.swing if time > 0 else math.nan, "critical_swing": critical, "life_revolutions": math.nan,
        "life": math.nan, "modified_life": math.nan, "needed_dynamic_rating": math.nan, "life_valid": False,
    }  # fmt: skip
    if not time > 0 or math.isnan(mean):
        if time > 0 and turned == 0:
            flags.append(f"{name}: does not turn in the duty: no life by ISO 281; its static safety counts (ISO 76)")
        return told
    if duty.swing < critical:
        flags.append(
            f"{name}: swings {math.degrees(duty.swing):.3g}° in all, below {math.degrees(critical):.3g}°: the paths "
            "of its rolling elements do not overlap, lubricant is not drawn in, and no life by ISO 281 is told (false "
            "brinelling; ask the maker)"
        )
        return told
    told["life_revolutions"] = _elements.rating_life(dynamic, mean, exponent)
    told["life"] = told["life_revolutions"] / turned * time
    told["modified_life"] = factor * told["life"]
    if wanted_life is not None:
        told["needed_dynamic_rating"] = _elements.needed_rating(mean, wanted_life / time * turned, exponent, factor)
    told["life_valid"] = not math.isnan(told["life"]) and _valid(part, duty, name, limit, flags)
    return told


def _valid(part: Part, duty: _limits.BearingDuty, name: str, limit: float, flags: list[str]) -> bool:
    """Whether the duty is within what ISO 281 is meant for; says where not."""
    valid = True
    if duty.greatest_equivalent > limit:
        rollers = part.kind in ("tapered", "crossed roller")
        what, clause = ("C/2", "7.3.2") if rollers else ("the less of C/2 and C0", "5.3.2")
        flags.append(
            f"{name}: P reaches {duty.greatest_equivalent:.0f} N, beyond {what}, {limit:.0f} N, up to which ISO "
            f"281:2007, {clause} (from memory), has its life equation hold: the life told may be too long"
        )
        valid = False
    if duty.beyond_table:
        flags.append(f"{name}: Fa/C0 is beyond ISO 281's table of X and Y (radial ball bearings): its last Y counts")
        valid = False
    if duty.greatest_speed < _SLOW:
        flags.append(
            f"{name}: turns at {duty.greatest_speed / _TURN * 60:.2g} r/min at most; below 10 r/min a bearing is "
            "sized by its static safety (common practice, no source)"
        )
    return valid


def _weakest(answers: list[dict[str, Any]]) -> dict[str, Any]:
    known = [a for a in answers if not math.isnan(a["safety"])]
    if not known:
        return {"weakest": "no bearing's static safety is known"}
    least = min(known, key=lambda a: a["safety"] / a["wanted_static"])
    return {"weakest": least["name"], "weakest_safety": least["safety"]}


def _lines(parts: list[Part], answers: list[dict[str, Any]], joints: int) -> dict[str, Floats]:
    """For every joint the tilting moment that leaves the wanted safety, against the axial force, beside the greatest
    radial force of the rows."""
    axial, moment = np.full((joints, _LINE_POINTS), np.nan), np.full((joints, _LINE_POINTS), np.nan)
    for part in parts:
        answer = next(a for a in answers if a["bearing_joint"] == part.joint)
        if np.isnan([c0 for _, c0 in part.ratings]).any() and part.limit_line is None:
            continue
        radial, wanted = answer["limit_radial"], answer["wanted_static"]

        def most(force: float, part: Part = part, radial: float = radial, wanted: float = wanted) -> float:
            line = _line_moment(part, force, wanted)
            if math.isnan(part.ratings[0][1]):
                return line  # the maker's line alone is told
            # NaN of either goes through.
            return float(np.minimum(line, _limits.greatest_moment(part.core, radial, force, wanted)))

        if math.isnan(most(0.0)):
            continue
        start = max(answer["greatest_pull"], 1.0)
        axial[part.joint] = np.linspace(_end(most, -start), _end(most, start), _LINE_POINTS)
        moment[part.joint] = [most(force) for force in axial[part.joint]]
    return {"limit_axial": axial, "limit_moment": moment}


def _line_moment(part: Part, force: float, wanted: float) -> float:
    """What a maker's line leaves with the wanted safety; NaN beyond its end."""
    if part.limit_line is None:
        return math.inf
    forces, moments = (np.array(side, float) for side in zip(*part.limit_line, strict=True))
    at = wanted * (abs(force) if forces[0] >= 0 else force)
    if at > forces[-1] or (forces[0] < 0 and at < forces[0]):
        return math.nan
    return float(np.interp(at, forces, moments)) / wanted


def _end(most: Any, start: float) -> float:
    """The greatest axial force that leaves a moment, by doubling and halving."""
    good, bad = 0.0, start
    while not math.isnan(most(bad)) and abs(bad) < 1e12:
        good, bad = bad, 2 * bad
    for _ in range(50):
        middle = (good + bad) / 2
        good, bad = (good, middle) if math.isnan(most(middle)) else (middle, bad)
    return good
