"""Whether a track is worth its money: no track, and each stroke of a list, side by side."""

from __future__ import annotations

import hashlib
import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
import xarray as xr

from armwright import _core, arguments
from armwright.compile import inertia_of
from armwright.describe import CellDescription, Cycle, Load
from armwright.describe.moves import JointMove, LineMove, Moving
from armwright.describe.pose import take_pose
from armwright.describe.track import take_stroke
from armwright.describe.wrong import shown
from armwright.designs.prices import TrackPrices
from armwright.errors import InputError
from armwright.results import make_dataset
from armwright.studies import run
from armwright.studies.cutting import Compute, go_on, stacked
from armwright.studies.pieces import How, run_pieces
from armwright.studies.run import Arrays

if TYPE_CHECKING:
    from armwright.cell import Cell

_MOST = 200  # strokes
_GAINED = 0.01  # a cycle shorter by less than this share is no gain


class Job(NamedTuple):
    """One stroke to be looked at."""

    description: CellDescription
    origin: tuple[float, float, float]  # of the carriage with the track at 0, or of the foot's place; world, m
    along: tuple[float, float, float]  # of the track, 0 without one


class Asked(NamedTuple):
    """What is asked of every stroke."""

    cycle: Cycle | None
    margin: float
    limit: str
    spacing: float | None


def track_worth(
    cell: Cell, strokes: Any, cycle: Any, prices: Any, within: Any, fixed_base: Any, spacing: Any, margin: Any,
    limit: Any, how: How,
) -> xr.Dataset:  # fmt: skip
    """See Cell.track_worth."""
    described = cell.description
    if described.track is None:
        raise InputError.of("track", "none", "a cell with a track, however short")
    if cycle is not None and not isinstance(cycle, Cycle):
        raise InputError.of("cycle", shown(cycle), "a Cycle, as load_cycle reads one, or None")
    if prices is not None and not isinstance(prices, TrackPrices):
        raise InputError.of("prices", shown(prices), "TrackPrices, or None")
    kept = arguments.length("margin", margin, zero=True)
    grid = arguments.length_or_none("spacing", spacing)
    line = None if within is None else take_stroke("within", within)
    intervals = cell.track_intervals(stroke=line, margin=kept, limit=limit)
    first, last = intervals.attrs["track_lower"], intervals.attrs["track_upper"]
    lengths = _lengths(strokes, intervals, first, last)
    lower, upper = intervals["lower"].values, intervals["upper"].values
    placed = [_core.studies.place_stroke(lower, upper, length, first, last) for length in lengths]
    begins = np.array([at for at, _ in placed])
    jobs = [_job(described, float(length), at) for length, at in zip(lengths, begins, strict=True)]
    if fixed_base is not None:
        jobs[0] = _placed(described, take_pose("fixed_base", fixed_base))
        begins[0] = math.nan
    asked = Asked(cycle, kept, limit, grid)
    labels = cell._labels
    stands = np.asarray(jobs[0].description.mount).tolist()
    told_of = (labels["inputs_digest"], cycle and cycle.digest(), prices, kept, limit, grid, lengths.tolist(), stands)
    digest = hashlib.sha256(repr(told_of).encode()).hexdigest()
    rows = run_pieces(
        prepare_strokes, (tuple(jobs), asked), np.arange(len(jobs)), study="track_worth", inputs_digest=digest,
        request={"strokes": lengths}, how=how,
    )  # fmt: skip
    hit = (upper >= begins[:, None, None] - 1e-9) & (lower <= (begins + lengths)[:, None, None] + 1e-9)
    served = np.array(hit.any(axis=2))
    served[lengths == 0] = rows["served"][lengths == 0]
    count = served.sum(axis=1)
    variables: dict[str, Any] = {
        "stroke_lower": begins, "served": served, "served_count": count,
        **{name: rows[name] for name in _NUMBERS if name in rows},
    }  # fmt: skip
    if cycle is not None:
        variables["cycle_reason"] = rows["cycle_reason"]
    if prices is not None:
        variables["cost"] = np.array([prices.of(float(length)) for length in lengths])
    told = _told(variables, lengths)
    if prices is not None:
        told["currency"] = prices.currency
    if cycle is not None:
        told["cycle_name"] = cycle.name
    return make_dataset(
        "track_worth",
        variables,
        {"stroke": lengths, "target": intervals["target"].values},
        {"limit": limit, "margin": kept, "track_lower": first, "track_upper": last} | told | labels["labels"],
        digest,
        labels["arm_name"],
    )


_NUMBERS = (
    "limit_margin", "clearance", "payload_spare", "force", "moment", "cycle_time", "cycle_force", "cycle_moment",
    "reachable_volume", "dexterous_volume",
)  # fmt: skip


def _lengths(strokes: Any, intervals: xr.Dataset, first: float, last: float) -> run.Floats:
    """The strokes to be looked at, 0 among them, rising; by default those at which one more point is served, in whole
    millimetres, and the whole track."""
    if strokes is None:
        needed = intervals["stroke_length"].values
        found = [math.ceil(1000 * length - 1e-6) / 1000 for length in needed[~np.isnan(needed)]]
        found = [length for length in found if length < last - first] + [last - first]
    else:
        told = [strokes] if isinstance(strokes, str) or not isinstance(strokes, Sequence | np.ndarray) else strokes
        if not 0 < len(told) <= _MOST:
            raise InputError.of("strokes", f"{len(told)} of them", f"1 to {_MOST} strokes")
        found = [arguments.length(f"strokes[{i}]", value, zero=True) for i, value in enumerate(told)]
        for i, length in enumerate(found):
            if length > last - first + 1e-9:
                expected = f"at most the track that is looked at, {last - first:g} m; `within` looks at a longer one"
                raise InputError.of(f"strokes[{i}]", f"{length:g} m", expected)
    return np.unique([0.0, *np.minimum(found, last - first)])


def _job(described: CellDescription, length: float, at: float) -> Job:
    """The cell with that stroke. Without one the arm stands where the carriage would, on a foot as high; carriage and
    rails are gone."""
    track = described.track
    assert track is not None
    along = track.pose[:3, :3] @ track.axis
    if length > 0:
        built = replace(described, track=replace(track, stroke=(at, at + length)))
        return Job(built, _three(track.pose[:3, 3]), _three(along))
    place = np.array(track.pose)
    place[:3, 3] += at * along
    return Job(replace(described, track=None, mount=place @ described.mount), _three(place[:3, 3]), (0.0, 0.0, 0.0))


def _placed(described: CellDescription, mount: run.Floats) -> Job:
    """The arm on a foot of its own somewhere else."""
    return Job(replace(described, track=None, mount=mount), _three(mount[:3, 3]), (0.0, 0.0, 0.0))


def _three(values: Any) -> tuple[float, float, float]:
    x, y, z = map(float, values)
    return x, y, z


def prepare_strokes(jobs: tuple[Job, ...], asked: Asked) -> Compute:
    def compute(rows: Any, threads: int, report: run.Report | None) -> Arrays:
        found = []
        for i, row in enumerate(rows):
            measured = _measure(jobs[int(row)], asked, threads or None)
            found.append({name: np.asarray(value)[np.newaxis] for name, value in measured.items()})
            go_on(report, i + 1, len(rows))
        return stacked(found)

    return compute


def _measure(job: Job, asked: Asked, threads: int | None) -> Mapping[str, Any]:
    """All that one stroke is judged by; NaN where a thing cannot be done."""
    from armwright.cell import Cell

    cell = Cell.from_description(job.description)
    check = cell.check_targets(margin=asked.margin, limit=asked.limit, threads=threads)  # type: ignore[arg-type]
    good = check["served"].values

    def least(values: Any) -> float:
        return float(np.min(values[good])) if good.any() else math.nan

    found: dict[str, Any] = {
        "served": good,
        "limit_margin": least(check["limit_margin"].values),
        "clearance": least(check["clearance"].values),
        "payload_spare": least(check["payload"].values - check["payload_wanted"].values),
    }
    found["force"], found["moment"] = _greatest(_at_rest(job, cell, check))
    if asked.cycle is not None:
        found |= _over_cycle(job, cell, asked.cycle)
    if asked.spacing is not None:
        reached = cell.reach_map(asked.spacing, margin=asked.margin, threads=threads)
        found |= {name: reached.attrs[name] for name in ("reachable_volume", "dexterous_volume")}
    return found


def _over_cycle(job: Job, cell: Cell, cycle: Cycle) -> Mapping[str, Any]:
    """Its duration and the loads on rails or foot; or why it cannot be run."""
    try:
        timed = cell.timed(cycle if job.description.track is not None else without_track(cycle, cell.joint_count))
    except InputError as error:
        nothing = dict.fromkeys(("cycle_time", "cycle_force", "cycle_moment"), math.nan)
        return {**nothing, "cycle_reason": str(error.problems[0])}
    wrenches = []
    for load in np.unique(timed.load):
        rows = timed.load == load
        carried = timed.loads[load] if load >= 0 else None
        wrenches.append(_about(job, cell, timed.q[rows], timed.qd[rows], timed.qdd[rows], carried))
    force, moment = _greatest(np.concatenate(wrenches))
    return {"cycle_time": timed.duration, "cycle_force": force, "cycle_moment": moment, "cycle_reason": ""}


def without_track(cycle: Cycle, joints: int) -> Cycle:
    """The same moves by an arm of so many joints that stands still: where they tell the track's place, that is left
    out."""

    def goal(told: Any) -> Any:
        return told[1:] if isinstance(told, tuple) and len(told) == joints + 1 else told

    def move(told: Any) -> Any:
        if not isinstance(told, Moving):
            return told
        changed: dict[str, Any] = {"to": goal(told.to)}
        if isinstance(told, JointMove):
            changed |= {"through": tuple(map(goal, told.through)), "track": "with arm"}
        if isinstance(told, LineMove):
            changed["track_to"] = None
        return replace(told, **changed)

    return replace(cycle, moves=tuple(map(move, cycle.moves)), start=goal(cycle.start))


def _greatest(wrenches: run.Floats) -> tuple[float, float]:
    """Force and moment."""
    sizes = [np.linalg.norm(part, axis=1).max(initial=0.0) for part in (wrenches[:, :3], wrenches[:, 3:])]
    return (float(sizes[0]), float(sizes[1])) if len(wrenches) else (math.nan, math.nan)


def _at_rest(job: Job, cell: Cell, check: xr.Dataset) -> run.Floats:
    """At the served work points, each with its own load."""
    rows = [np.empty((0, 6))]
    still = np.zeros(cell.joint_count)
    targets = cell.description.targets
    for i in np.flatnonzero(check["served"].values):
        load = targets[i].load or cell.description.load
        rows.append(_about(job, cell, check["q"].values[i], still, still, load))
    return np.concatenate(rows)


def _about(
    job: Job, cell: Cell, q: run.Floats, qd: run.Floats, qdd: run.Floats, load: Load | None
) -> run.Floats:
    """What the arm puts on carriage or foot, about the carriage's origin, (rows, 6)."""
    rows, speeds, accelerations = (np.reshape(values, (-1, cell.joint_count)) for values in (q, qd, qdd))
    carried = _core.model.Inertia()
    if load is not None:
        carried = _core.model.load_in_last_joint(cell._model, inertia_of(load))
    wrench = _core.dynamics.base_wrenches(cell._model, carried, rows, speeds, accelerations)
    wrench[:, 3:] -= np.cross(np.array(job.origin) + rows[:, :1] * np.array(job.along), wrench[:, :3])
    return wrench


def _told(variables: Mapping[str, Any], lengths: run.Floats) -> dict[str, Any]:
    """The shortest stroke that serves as many as any; the one beyond which nothing is gained, no point and no hundredth
    of the cycle; and the knee, where the gain stands farthest above what even growth would give."""
    count = variables["served_count"]
    time = variables.get("cycle_time", np.full(len(count), np.nan))
    enough = int(np.argmax(count))  # the first of the greatest
    known = np.where(np.isnan(time), np.inf, time)
    beyond = next(
        k for k in range(len(count))
        if count[k:].max() == count[k] and not (known[k:].min() < known[k] * (1 - _GAINED))
    )  # fmt: skip
    return {
        "enough_stroke": float(lengths[enough]),
        "last_gain_stroke": float(lengths[beyond]),
        "knee_stroke": float(lengths[_knee(lengths, count, time)]),
    }


def _knee(lengths: run.Floats, count: Any, time: run.Floats) -> int:
    gains = []
    for values in (np.asarray(count, float), -time):
        known = values[~np.isnan(values)]
        if known.size and np.ptp(known) > 0:
            gains.append((np.where(np.isnan(values), known.min(), values) - known.min()) / np.ptp(known))
    if not gains or lengths[-1] == 0:
        return 0
    above = np.mean(gains, axis=0) - lengths / lengths[-1]
    return int(np.argmax(np.round(above, 9)))
