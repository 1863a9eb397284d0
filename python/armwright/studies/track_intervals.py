"""From where on the track each work point is served; the strokes and parking positions that follow."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import xarray as xr

from armwright import _core
from armwright.compile import target_specs
from armwright.errors import InputError
from armwright.results import make_dataset
from armwright.studies import defaults, pieces, run
from armwright.studies.check_targets import limit_for, need_targets
from armwright.studies.subject import Subject


def track_intervals(
    subject: Subject,
    described: Sequence[Any],
    *,
    centre: run.Floats | None,
    margin: float,
    limit: str,
    how: pieces.How,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.track_intervals. ``described``: the work points."""
    model, targets = subject.model, target_specs(subject.description, described, centre)
    need_targets(described)
    if not model.has_track:
        raise InputError.of("track", "none", "a cell with a track; give one a long stroke to find how much is needed")
    run.check_combinations(subject.inverse, defaults.track_step)
    limit_for(model, limit, targets)
    found = pieces.run_pieces(
        _prepare, (subject, tuple(described), centre, margin, limit), np.arange(len(targets)),
        study="track_intervals", inputs_digest=inputs_digest, how=how,
        request={"targets": described, "centre": centre, "margin": margin, "limit": limit},
    )  # fmt: skip
    most = int((~np.isnan(found["lower"])).sum(axis=1).max())
    lower, upper, q = (found[name][:, :most] for name in ("lower", "upper", "q"))
    begins, lengths = _core.studies.shortest_strokes(lower, upper)
    positions, parked = parking(lower, upper)
    return make_dataset(
        "track_intervals",
        {
            "lower": lower, "upper": upper, "q": q,
            "served": ~np.isnan(lower).all(axis=1) if most else np.zeros(len(targets), dtype=bool),
            "stroke_lower": begins, "stroke_length": lengths,
            "parking_position": positions, "parking_of": parked,
        },
        {
            "target": np.array([target.name for target in targets]),
            "joint": np.array(model.joint_names),
            "joint_unit": run.joint_units(model),
            "interval": np.arange(most), "served_count": np.arange(1, len(targets) + 1),
            "parking": np.arange(len(positions)),
        },
        {"limit": limit, "margin": margin, "track_lower": float(model.lower[0]), "track_upper": float(model.upper[0])}
        | labels,
        inputs_digest,
        arm_name,
    )  # fmt: skip


def parking(lower: run.Floats, upper: run.Floats) -> tuple[run.Floats, run.Ints]:
    """The fewest positions that meet an interval of every point that has any, and which of them each point is served
    from (-1: none).

    A smallest hitting set. Moving a position up to the next upper end loses no point, so only upper ends need be tried;
    which of them, an integer programme tells (scipy's HiGHS): exact. Then each position is moved to the middle of what
    its points have in common.
    """
    from scipy.optimize import Bounds, LinearConstraint, milp  # type: ignore[import-untyped]

    points = np.flatnonzero(~np.isnan(lower).all(axis=1)) if lower.shape[1] else np.array([], dtype=int)
    of = np.full(len(lower), -1)
    if not len(points):
        return np.array([]), of
    tried = np.unique(upper[points][~np.isnan(upper[points])])
    meets = ((lower[points, :, None] <= tried) & (tried <= upper[points, :, None])).any(axis=1)
    chosen = milp(
        np.ones(len(tried)), integrality=np.ones(len(tried)), bounds=Bounds(0, 1),
        constraints=LinearConstraint(meets.astype(float), 1, np.inf),
    )  # fmt: skip
    if chosen.x is None:
        raise RuntimeError(f"no parking positions found: {chosen.message}")  # a cover by all of them always exists
    positions = np.sort(tried[chosen.x > 0.5])
    for i in points:
        hit = ((lower[i, :, None] <= positions) & (positions <= upper[i, :, None])).any(axis=0)
        of[i] = int(np.flatnonzero(hit)[0])
    centred = positions.copy()
    for k, position in enumerate(positions):
        own = np.flatnonzero(of == k)
        around = [(lower[i] <= position) & (position <= upper[i]) for i in own]
        first = max(lower[i][here].max() for i, here in zip(own, around, strict=True))
        last = min(upper[i][here].min() for i, here in zip(own, around, strict=True))
        centred[k] = 0.5 * (first + last)
    return centred, of


def _prepare(
    subject: Subject, described: tuple[Any, ...], centre: run.Floats | None, margin: float, limit: str
) -> pieces.Compute:
    targets = target_specs(subject.description, described, centre)
    which = limit_for(subject.model, limit, targets)
    scenes = [subject.solids_with(target.load) for target in described]

    def compute(places: run.Ints, threads: int, report: run.Report | None) -> run.Arrays:
        groups: dict[int, list[int]] = {}  # with the same solids
        for row, place in enumerate(places.tolist()):
            groups.setdefault(id(scenes[place]), []).append(row)
        found = []
        for part, rows in enumerate(groups.values()):
            here = [targets[places[row]] for row in rows]
            told = run.part_of(report, part, len(groups))
            some = _core.studies.track_intervals(
                subject.inverse, scenes[places[rows[0]]], here, which, margin, run.turn_step, defaults.track_step,
                threads, told,
            )  # fmt: skip
            run.finished(len(some[0]) == len(rows))
            found.append((rows, some))
        most = max(some[0].shape[1] for _, some in found)
        whole = [np.full((len(places), most, *values.shape[2:]), np.nan) for values in found[0][1]]
        for rows, some in found:
            for values, own in zip(whole, some, strict=True):
                values[rows, : own.shape[1]] = own
        return dict(zip(("lower", "upper", "q"), whole, strict=True))

    return compute
