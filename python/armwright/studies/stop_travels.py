"""How far every joint still goes towards either end of its range when a stop is asked for at full speed."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from armwright import _core
from armwright.studies import run
from armwright.studies.stop import followed, options_of
from armwright.studies.stop_table import shares

_most = 0.999  # of the range
_halvings = 11  # of that, to 0.05 %
rule = (
    "each joint alone at its greatest speed towards either end, with the load, at 33, 66 and 100 % of the extension "
    "as in stop_table: how near to the end a stop may begin that does not meet it, to 0.05 % of the range"
)


def held_words(hold_after: float) -> str:
    """How a controlled stop ends, for the rule."""
    if hold_after > 0:
        return f"; after a controlled stop the motors hold the arm for {hold_after:g} s while the brakes close"
    return "; after a controlled stop the power goes at once, and the arm sags until the brakes have closed"


def stop_travels(
    model: _core.model.Model,
    load: _core.model.Inertia,
    category: int,
    *,
    reaction: float,
    hold_after: float,
    threads: int | None,
    progress: run.Progress,
) -> run.Floats:
    """Travel of each joint towards its lower and its upper end, (n, 2), rad or m; NaN where there is no such end, no
    greatest speed is known, or the joint does not stop within its range (one without a brake, that falls)."""
    n = model.joint_count
    centre = load.centre if load.mass > 0 else model.tool[:3, 3]
    lying = np.array([q for q, _ in _core.stops.stop_postures(model, centre, list(shares))])
    ends = np.stack([model.lower, model.upper], axis=1)
    speed = np.array([_core.stops.full_speed(model, k) for k in range(n)])
    asked = [(k, end) for k in range(n) for end in (0, 1) if np.isfinite(ends[k]).all() and 0 < speed[k] < math.inf]
    travels = np.full((n, 2), np.nan)
    if not asked:
        return travels
    options = options_of(
        model, category, deceleration=None, reaction=reaction, time_limit=10.0, hold_after=hold_after
    )
    joint, end = np.array(asked).T
    sense = np.where(end == 0, -1.0, 1.0)
    width = ends[joint, 1] - ends[joint, 0]

    def runs_into(away: run.Floats) -> NDArray[np.bool_]:
        """Whether a stop that begins ``away`` from the end meets it, in any of the postures."""
        q = np.repeat(lying[None], len(asked), axis=0)
        q[np.arange(len(asked)), :, joint] = (ends[joint, end] - sense * away)[:, None]
        v = np.zeros_like(q)
        v[np.arange(len(asked)), :, joint] = (sense * speed[joint])[:, None]
        rows, speeds = q.reshape(-1, n), v.reshape(-1, n)
        words = f"stops of category {category}"
        batch = followed(model, [load] * len(rows), rows, speeds, options, threads, progress, words)
        hit = np.asarray(batch.impact_speed)[np.arange(len(rows)), np.repeat(joint, len(lying))] > 0
        hit |= np.array([end == _core.stops.StopEnd.gave_up for end in batch.end])  # nobody knows
        return np.asarray(hit.reshape(len(asked), -1).any(axis=1))

    near, far = np.zeros(len(asked)), _most * width
    never = runs_into(far)
    for _ in range(_halvings):
        middle = 0.5 * (near + far)
        hit = runs_into(middle)
        near, far = np.where(hit, middle, near), np.where(hit, far, middle)
    travels[joint, end] = np.where(never, np.nan, far)
    return travels
