"""What the arm's swing does to a track that stands: the force along it against what holds it."""

from __future__ import annotations

from typing import Any

import numpy as np

from armwright import _core
from armwright.studies.rows_told import Told, placed
from armwright.studies.run import Arrays, Floats

HELD = ("rest", "cycle", "stop")
_STANDS = 1e-9  # m/s, m/s²
_LITTLE = 1e-6  # N; less is rounding


def held_figures(model: _core.model.Model, rows: Any, along: Floats, told: Told) -> Arrays:
    """Over (held), the kinds of cases: the greatest force along the track while it stands, and what holds it: in a
    cycle the motor, at rest and in stops the brake, by its ratio alone, as in the study holding."""
    kind = np.array([HELD.index(word) for word in rows.case_kinds] or [0])[np.asarray(rows.case)]
    # Where a move of the cycle begins the track has no speed yet, but does not stand: its own acceleration would count
    # as a swing. In a stop nothing drives it: what sets it off there is what it should be held against.
    sets_off = (kind == HELD.index("cycle")) & (np.abs(np.asarray(rows.qdd)[:, 0]) > _STANDS)
    stands = (np.abs(np.asarray(rows.qd)[:, 0]) <= _STANDS) & ~sets_off
    brake = _core.stops.brake_hold(model, 0)
    peak = float(model.torque_peak[0])
    holds = {"rest": brake, "cycle": (peak,), "stop": brake}
    force, bears, at = np.full(3, np.nan), np.full(3, np.nan), np.full(3, -1, np.int64)
    for i, name in enumerate(HELD):
        chosen = np.flatnonzero(stands & (kind == i))
        if chosen.size == 0:
            continue
        at[i] = chosen[int(np.abs(along[chosen]).argmax())]
        force[i] = abs(along[at[i]])
        hold = holds[name]
        bears[i] = np.nan if hold is None or np.isinf(hold[0]) else hold[0]
        _judge(name, force[i], bears[i], told)
    with np.errstate(divide="ignore", invalid="ignore"):
        factor = np.where(force > _LITTLE, bears / force, np.where(np.isnan(bears) | np.isnan(force), np.nan, np.inf))
    pushed, case = _pushed(rows, kind)
    if pushed > 1e-6:
        told.warnings.append(f"the track stands when a stop is asked for and is pushed by {1000 * pushed:.3g} mm in it "
                             f"({rows.case_names[case]}): what holds it is too weak, or holds too late")  # fmt: skip
    return {"held_force": force, "held_bears": bears, "held_factor": factor, "track_pushed": np.array(pushed),
            "track_pushed_case": np.array(case, np.int64), **placed(rows, {"held": at})}  # fmt: skip


def _judge(name: str, force: float, bears: float, told: Told) -> None:
    where = {"rest": "at rest", "cycle": "in the cycle", "stop": "in stops"}[name]
    holder = "motor" if name == "cycle" else "brake"
    if np.isnan(bears):
        if force > _LITTLE:
            told.missing.append(f"track: {force:.4g} N along it while it stands {where}, and no {holder} told to hold "
                                "that")  # fmt: skip
    elif force > bears:
        alone = " at its peak" if name == "cycle" else " by its ratio alone"
        told.warnings.append(f"track: {force:.4g} N along it while it stands {where}; the {holder} holds {bears:.4g} N"
                             f"{alone}")  # fmt: skip


def _pushed(rows: Any, kind: Any) -> tuple[float, int]:
    """The farthest that a track which stood is pushed in a stop, m, and in which case."""
    case, q = np.asarray(rows.case), np.asarray(rows.q)[:, 0]
    most, where = 0.0, -1
    for i in np.unique(case[kind == HELD.index("stop")]):
        chosen = np.flatnonzero(case == i)
        if abs(rows.qd[chosen[0], 0]) > _STANDS:
            continue
        far = float(np.abs(q[chosen] - q[chosen[0]]).max())
        if far > most:
            most, where = far, int(i)
    return most, where
