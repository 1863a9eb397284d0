"""Asks a cell the studies that answer the questions of a report."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

from armwright.errors import InputError
from armwright.part_studies import part_studies

if TYPE_CHECKING:  # xarray brings pandas, a second of waiting, so that results are imported where they are made
    import xarray as xr

    from armwright.cell import Cell

DETAILS = {"coarse": 6000, "fine": 60000}
"""How many positions a map of the reach has, about."""
_ATTITUDES = {"coarse": (20, 1), "fine": (60, 2)}  # directions of the tool axis, turns about it
_SECTION = {"coarse": 30, "fine": 60}  # positions along the longer edge of an upright section
_ACCELERATION = 3.0  # m/s², asked of the tool point where nothing else is told
_SAMPLES = {"coarse": 64, "fine": 256}
_NO_CYCLE = "no cycle of moves was given (a cycle.toml, by --cycle or cycle=)"
_NO_POINTS = "the cell has no work points ([[target]] in the cell's file)"


@dataclass
class Asked:
    """A cell that is asked, and what has come out so far. ``told``: results that there are already, and are not asked
    again; ``absent``: by question, what was not asked and for want of what."""

    cell: Cell
    cycle: Any = None
    detail: str = "coarse"
    how: dict[str, Any] = field(default_factory=dict)
    results: dict[str, xr.Dataset] = field(default_factory=dict)
    absent: dict[str, list[str]] = field(default_factory=dict)

    def lacks(self, key: str, *reasons: str) -> None:
        """Notes that a part of this question cannot be asked."""
        self.absent.setdefault(key, []).extend(reasons)

    def ask(self, key: str, study: str, run: Callable[[], xr.Dataset]) -> xr.Dataset | None:
        """The result of a study; where the cell lacks what it needs, that is noted."""
        if study not in self.results:
            try:
                self.results[study] = run()
            except InputError as error:
                self.lacks(key, f"{study.replace('_', ' ')}: {'; '.join(map(str, error.problems))}")
                return None
        return self.results[study]


def ask_all(asked: Asked, keys: Iterable[str]) -> None:
    """Asks the questions of these keys in turn."""
    for key in keys:
        _ASK.get(key, _told_only)(asked, key)


def _told_only(asked: Asked, key: str) -> None:
    """Questions that have to be asked with more than the cell tells."""
    study, wanted = _MORE.get(key, ("", ""))
    if study and study not in asked.results:
        asked.lacks(key, wanted)


_MORE = {
    "place": (
        "placement",
        "where it may stand was not told: ask Cell.placement (armwright place), and hand its result over",
    )
}


def _reach(asked: Asked, key: str) -> None:
    cell, how = asked.cell, asked.how
    if cell.targets:
        asked.ask(key, "check_targets", lambda: cell.check_targets(**how))
    else:
        asked.lacks(key, _NO_POINTS)
    _mapped(asked, key)


def _mapped(asked: Asked, key: str) -> xr.Dataset | None:
    """Outlines and a map of the reach."""
    cell, how = asked.cell, asked.how
    outlines = asked.ask(key, "outlines", lambda: cell.outlines(**how))
    spacing = None if outlines is None else _spacing(asked, outlines)
    if spacing is None:
        asked.lacks(key, "reach map: the tool reaches no position")
        return None
    directions, spins = _ATTITUDES[asked.detail]
    return asked.ask(
        key,
        "reach_map",
        lambda: cell.reach_map(
            spacing, directions=directions, spins=spins, track_step=spacing, dexterous_share=0.5, **how
        ),
    )


def _spacing(asked: Asked, outlines: xr.Dataset) -> float | None:
    """Between positions of a map, so that there are as many as the detail says."""
    plan, section = outlines["plan"].values, outlines["section"].values
    if np.isnan(plan).all() or np.isnan(section).all():
        return None
    edges = [np.ptp(plan[np.isfinite(plan[:, i]), i]) for i in (0, 1)]
    edges.append(np.ptp(section[np.isfinite(section[:, 1]), 1]))
    volume = math.prod(max(float(edge), 0.05) for edge in edges)
    return _whole(float((volume / DETAILS[asked.detail]) ** (1 / 3)))


def _whole(spacing: float) -> float:
    """In whole 5 mm."""
    return max(1, math.ceil(spacing / 0.005)) * 0.005


def _section(asked: Asked, key: str) -> dict[str, Any] | None:
    """The upright plane that maps of masses are asked in: square to the track at its middle, or through the base along
    x; with the load's own centre."""
    from armwright.report.cuts import upright_cut

    reach = _mapped(asked, key)
    if reach is None or not reach["reachable"].values.any():
        asked.lacks(key, "the tool reaches no position")
        return None
    x, y = upright_cut(reach)
    ends = [_ends(reach, axis) for axis in "xyz"]
    axis, at = (0, x) if x is not None else (1, y)
    assert at is not None
    ends[axis] = (at, at)
    longest = max(upper - lower for lower, upper in ends)
    spacing = _whole(longest / _SECTION[asked.detail])
    load = asked.cell.load
    return {
        "spacing": spacing,
        "bounds": (tuple(e[0] for e in ends), tuple(e[1] for e in ends)),
        "centre": load.centre if load else (0, 0, 0),
        "track_step": float(reach.attrs["spacing"]),
        "directions": _ATTITUDES[asked.detail][0],
        "spins": 1,
    }


def _ends(reach: xr.Dataset, axis: str) -> tuple[float, float]:
    others = [dim for dim in ("x", "y", "z") if dim != axis]
    reached = reach[axis].values[reach["reachable"].any(others).values]
    half = float(reach.attrs["spacing"]) / 2
    return float(reached.min()) - half, float(reached.max()) + half


def _hold(asked: Asked, key: str) -> None:
    if not np.isfinite(asked.cell.limits.torque_continuous).any():
        asked.lacks(key, "no drive, and no torque of any joint, is told")
        return
    asked_with = _section(asked, key)
    if asked_with is not None:
        asked.ask(key, "payload_map", lambda: asked.cell.payload_map(**asked_with, **asked.how))


def _speed(asked: Asked, key: str) -> None:
    if asked.cycle is None:
        asked.lacks(key, f"payload against time: {_NO_CYCLE}")
    else:
        asked.ask(key, "payload_against_time", lambda: asked.cell.payload_against_time(asked.cycle, **asked.how))
    if not np.isfinite(asked.cell.limits.torque_peak).any():
        asked.lacks(key, "no drive, and no peak torque of any joint, is told")
        return
    asked_with = _section(asked, key)
    if asked_with is not None:
        asked_with["spacing"] *= 2
        asked.ask(
            key,
            "payload_at_speed",
            lambda: asked.cell.payload_at_speed(tool_acceleration=_ACCELERATION, **asked_with, **asked.how),
        )


def _moves(asked: Asked, key: str) -> None:
    if asked.cycle is None:
        asked.lacks(key, _NO_CYCLE)
        return
    from armwright.timed import TimedMotion

    if not isinstance(asked.cycle, TimedMotion):
        asked.ask(key, "motion", lambda: asked.cell.motion(asked.cycle))
    asked.ask(key, "drive_check", lambda: asked.cell.drive_check(asked.cycle))


def _supply(asked: Asked, key: str) -> None:
    if asked.cycle is None:
        asked.lacks(key, _NO_CYCLE)
    elif asked.cell.supply is None:
        asked.lacks(key, "the cell tells no [supply] in its file")
    else:
        asked.ask(key, "power", lambda: asked.cell.power(asked.cycle))


def _failure(asked: Asked, key: str) -> None:
    asked.ask(key, "holding", lambda: asked.cell.holding(**asked.how))
    asked.ask(key, "stop_table", lambda: asked.cell.stop_table(**asked.how))


def _parts(asked: Asked, key: str) -> None:
    cell, how = asked.cell, {name: value for name, value in asked.how.items() if name != "store"}
    if part_studies(cell, asked.cycle, None).keys() <= asked.results.keys():
        return
    try:
        rows = cell.load_rows(asked.cycle, **how)
    except InputError as error:
        asked.lacks(key, "; ".join(map(str, error.problems)))
        return
    for study, run in part_studies(cell, asked.cycle, rows).items():
        asked.ask(key, study, run)
    if asked.cycle is None:
        asked.lacks(key, f"nothing was looked at in a cycle: {_NO_CYCLE}; so there are no lives")


def _truth(asked: Asked, key: str) -> None:
    cell, how = asked.cell, asked.how
    if "outlines" not in asked.results:
        asked.ask(key, "outlines", lambda: cell.outlines(**how))
    spacing = _spacing(asked, asked.results["outlines"]) if "outlines" in asked.results else None
    if spacing is not None:
        asked.ask(key, "sag_over_reach", lambda: cell.sag_over_reach(spacing / 2, **how))
    if not cell.targets:
        asked.lacks(key, "sag and error at work points: the cell has none")
        return
    sunk = asked.ask(key, "sag", lambda: cell.sag(**how))
    if sunk is not None and (served := np.isfinite(sunk["q"].values).all(axis=-1)).any():
        asked.ask(key, "stiffness", lambda: cell.stiffness(sunk["q"].values[served], **how))
    asked.ask(key, "tool_error", lambda: cell.tool_error(**how))


def _lifting(asked: Asked, key: str) -> None:
    cell = asked.cell
    asked.ask(key, "lifting", lambda: cell.lifting(**asked.how))
    if not cell.description.lifting:
        asked.lacks(key, "how it hangs: no [[lifting]] eye is told in the cell's file")
    if cell.description.service:
        asked.ask(key, "service", lambda: cell.service(**asked.how))
    else:
        asked.lacks(key, "which motors come out: no [[service]] volume is told in the cell's file")


def _guarding(asked: Asked, key: str) -> None:
    cell = asked.cell
    asked.ask(key, "switches", lambda: cell.switches(**asked.how))
    stops = asked.ask(key, "stop_table", lambda: cell.stop_table(**asked.how))
    if stops is not None:
        asked.ask(key, "separation", lambda: cell.separation(float(stops["stop_time"].max())))


def _track(asked: Asked, key: str) -> None:
    cell = asked.cell
    if cell.track is None:
        asked.lacks(key, "the cell has no [track] in its file")
    elif not cell.targets:
        asked.lacks(key, _NO_POINTS)
    else:
        asked.ask(key, "track_intervals", lambda: cell.track_intervals(**asked.how))
        asked.ask(key, "track_worth", lambda: cell.track_worth(cycle=_described(asked.cycle), **asked.how))


def _described(cycle: Any) -> Any:
    """What is timed anew for each stroke: a cycle of moves, not one that is timed already."""
    from armwright.describe import Cycle

    return cycle if isinstance(cycle, Cycle) else None


def _changes(asked: Asked, key: str) -> None:
    if not asked.cell.targets:
        asked.lacks(key, _NO_POINTS)
        return
    asked.ask(key, "changes", lambda: asked.cell.changes(**asked.how))
    asked.lacks(
        key,
        "parts and other alternatives with their prices were not told: ask Cell.changes (armwright "
        "changes), and hand its result over",
    )


def _certainty(asked: Asked, key: str) -> None:
    if not asked.cell.targets:
        asked.lacks(key, _NO_POINTS)
        return
    asked.ask(key, "uncertainty", lambda: asked.cell.uncertainty(samples=_SAMPLES[asked.detail], **asked.how))


_ASK: dict[str, Callable[[Asked, str], None]] = {
    "reach": _reach, "hold": _hold, "speed": _speed, "moves": _moves, "supply": _supply, "failure": _failure,
    "parts": _parts, "truth": _truth, "lifting": _lifting, "guarding": _guarding, "track": _track, "changes": _changes,
    "certainty": _certainty,
}  # fmt: skip
