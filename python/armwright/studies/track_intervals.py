"""From where on the track each work point is served; the strokes and parking positions that follow."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import xarray as xr

from armwright import _core
from armwright.errors import InputError
from armwright.results import make_dataset
from armwright.studies import defaults, run
from armwright.studies.check_targets import limit_for


def track_intervals(
    model: _core.model.Model,
    scenes: Sequence[_core.clearance.Scene],
    targets: Sequence[_core.model.TargetSpec],
    *,
    margin: float,
    limit: str,
    threads: int | None = None,
    progress: run.Progress = None,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.track_intervals. ``scenes``: for each work point the solids, with what is carried there."""
    if not targets:
        raise InputError.of("targets", "none", "at least one work point")
    if not model.has_track:
        raise InputError.of("track", "none", "a cell with a track; give one a long stroke to find how much is needed")
    run.check_combinations(model, defaults.track_step)
    found = [_none(model)] * len(targets)
    which = limit_for(model, limit, targets)
    carried = list({id(scene): scene for scene in scenes}.values())
    for part, scene in enumerate(carried):
        places = [i for i, own in enumerate(scenes) if own is scene]
        with run.reported(progress, "track intervals", part, len(carried)) as report:
            lower, upper, q = _core.studies.track_intervals(
                model, scene, [targets[i] for i in places], which, margin, run.turn_step, defaults.track_step,
                run.threads_of(threads), report,
            )  # fmt: skip
        run.finished(len(lower) == len(places))
        for row, i in enumerate(places):
            kept = ~np.isnan(lower[row])
            found[i] = (lower[row][kept], upper[row][kept], q[row][kept])
    most = max(len(lower) for lower, _, _ in found)
    lower, upper = (_side_by_side([each[k] for each in found], most) for k in (0, 1))
    begins, lengths = _core.studies.shortest_strokes(lower, upper)
    positions, parked = parking(lower, upper)
    return make_dataset(
        "track_intervals",
        {
            "lower": lower, "upper": upper, "q": _side_by_side([q for _, _, q in found], most),
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


def _none(model: _core.model.Model) -> tuple[run.Floats, run.Floats, run.Floats]:
    return np.empty(0), np.empty(0), np.empty((0, len(model.joint_names)))


def _side_by_side(rows: list[run.Floats], most: int) -> run.Floats:
    """Rows of different length, filled up with NaN."""
    out = np.full((len(rows), most, *rows[0].shape[1:]), np.nan)
    for i, row in enumerate(rows):
        out[i, : len(row)] = row
    return out
