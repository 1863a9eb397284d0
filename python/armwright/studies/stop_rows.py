"""Rows of stops: what all joints do at every step from the signal to rest."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np

from armwright import _core
from armwright.errors import InputError
from armwright.studies import run
from armwright.studies.load_rows import Part, carried_by, nothing, share_of_load
from armwright.studies.stop import followed, options_of
from armwright.studies.stop_table import shares, table_stops

_TIME_LIMIT = 10.0  # s
_TABLE = "of the stop table"
_RIPPLE = 0.02  # of a joint's greatest speed in the cycle: rises and falls of less make no extreme
_MOST_EXTREMES = 100
_SAME = 0.01  # s: instants nearer than that are one


class Stopped(NamedTuple):
    """Rows of stops, the loads that they carry beyond those known before, and what was left out, in words."""

    parts: list[Part]
    loads: list[Any]
    missing: list[str]


class _Asked(NamedTuple):
    """Stops of one category: where from, with what, and what each is called."""

    category: int
    q: run.Floats
    speed: run.Floats
    load: list[int]
    names: list[str]
    words: str  # all of them together


def table_parts(
    model: _core.model.Model, loads: Sequence[Any], heaviest: int, options: dict[str, Any], threads: int | None,
    progress: run.Progress,
) -> Stopped:  # fmt: skip
    """Stops of categories 0 and 1 from the postures and speeds of a stop table, with shares of the heaviest load."""
    full = None if heaviest == nothing else loads[heaviest]
    lighter = [] if full is None else [share_of_load(full, share) for share in shares[:-1]]
    known = [*loads, *lighter]
    places = dict(zip(shares, [len(loads) + i for i in range(len(lighter))] + [heaviest], strict=False))
    try:
        table = table_stops(model, carried_by(model, full))
    except InputError as error:
        return Stopped([], [], [f"stops of a stop table are left out: {error}"])
    chosen = [i for i, (_, _, share, _) in enumerate(table.rows) if full is not None or share == 1]
    names = []
    for i in chosen:
        axis, speed, share, extension = table.rows[i]
        carried = f"{100 * share:.0f} % of the load" if full is not None else "no load"
        names.append(
            f"of {model.joint_names[table.axes[axis]]}, {100 * speed:.0f} % of speed, {carried}, "
            f"{100 * shares[extension]:.0f} % of extension"
        )
    carried_in = [places[table.rows[i][2]] if full is not None else nothing for i in chosen]
    parts, missing = [], []
    for category in (0, 1):
        asked = _Asked(category, table.q[chosen], table.speed[chosen], carried_in, names, _TABLE)
        found, left_out = _followed(model, known, asked, options, threads, progress)
        parts += found
        missing += left_out
    return Stopped(parts, lighter, missing)


def cycle_stop_parts(
    model: _core.model.Model, rows: Sequence[Part], loads: Sequence[Any], words: str, instants: int,
    options: dict[str, Any], threads: int | None, progress: run.Progress,
) -> Stopped:  # fmt: skip
    """Stops of category 0 from instants of a cycle: ``instants`` spread evenly over its time, and where the speed of a
    joint is at a local extreme. ``rows``: those of the cycle, in the order of time."""
    joined = [np.concatenate([getattr(part, name) for part in rows]) for name in ("time", "q", "qd", "load")]
    order = np.argsort(joined[0], kind="stable")
    time, q, speed, load = (values[order] for values in joined)
    chosen, left_out = _instants(time, speed, instants)
    names = [f"at {time[i]:.3f} s of {words}" for i in chosen]
    asked = _Asked(0, q[chosen], speed[chosen], [int(load[i]) for i in chosen], names, f"in the {words}")
    parts, missing = _followed(model, loads, asked, options, threads, progress)
    if left_out:
        missing.append(
            f"stops in the {words} are looked at from the {_MOST_EXTREMES} fastest extremes of joint speed; "
            f"{left_out} slower ones are not"
        )
    return Stopped(parts, [], missing)


def _instants(time: run.Floats, speed: run.Floats, evenly: int) -> tuple[list[int], int]:
    """Rows to stop from, in the order of time, and how many extremes were left out."""
    size = np.abs(speed)
    greatest = size.max(axis=0)
    share = np.divide(size, greatest, out=np.zeros_like(size), where=greatest > 0)
    found = [(float(column[row]), row) for column in share.T for row in _peaks(column)]
    found.sort(key=lambda each: (-each[0], each[1]))
    spread = np.linspace(time[0], time[-1], evenly + 2)[1:-1]
    kept = [int(row) for row in np.searchsorted(time, spread).clip(0, len(time) - 1)]
    extremes: list[int] = []
    left_out = 0
    for _, row in found:
        if any(abs(time[row] - time[other]) < _SAME for other in extremes):
            continue
        if len(extremes) < _MOST_EXTREMES:
            extremes.append(row)
        else:
            left_out += 1
    return sorted({*kept, *extremes}), left_out


def _peaks(values: run.Floats) -> list[int]:
    """Where values (0 to 1) are highest between falls of more than a ripple; both ends of a level top."""
    found: list[int] = []
    top, low, rising = 0, 0.0, True
    for row, value in enumerate(values.tolist()):
        if rising:
            if value > values[top]:
                top = row
            elif value < values[top] - _RIPPLE:
                found += _level(values, top)
                low, rising = value, False
        elif value > low + _RIPPLE:
            top, rising = row, True
        else:
            low = min(low, value)
    return found + (_level(values, top) if rising and values[top] > _RIPPLE else [])


def _level(values: run.Floats, top: int) -> list[int]:
    """First and last row about a top that are as high, but for rounding."""
    last = top
    while last + 1 < len(values) and values[last + 1] > values[top] - 1e-9:
        last += 1
    return [top] if last == top else [top, last]


def _followed(
    model: _core.model.Model, loads: Sequence[Any], asked: _Asked, options: dict[str, Any], threads: int | None,
    progress: run.Progress,
) -> tuple[list[Part], list[str]]:  # fmt: skip
    """A part a stop, at every step of the integration and on both sides of every event."""
    kind = f"stops of category {asked.category} {asked.words}"
    try:
        told = options_of(model, asked.category, time_limit=_TIME_LIMIT, **options)
        told.every_step = True
        inertias = {place: carried_by(model, None if place == nothing else loads[place]) for place in set(asked.load)}
        carried = [inertias[place] for place in asked.load]
        batch = followed(model, carried, asked.q, asked.speed, told, threads, progress, kind)
    except InputError as error:
        return [], [f"{kind} are left out: {error}"]
    parts = []
    for i, name in enumerate(asked.names):
        time, q, qd, qdd = batch.every_step(i)
        parts.append(Part(f"category {asked.category} stop {name}", "stop", q, qd, qdd, asked.load[i], time[:, 0]))
    return parts, _caveats(model, batch, kind)


def _caveats(model: _core.model.Model, batch: _core.stops.StopBatch, kind: str) -> list[str]:
    """What the rows of these stops do not tell."""
    words = []
    for end, meaning in (
        (_core.stops.StopEnd.still_moving, f"still moves after {_TIME_LIMIT:g} s"),
        (_core.stops.StopEnd.joint_end, "drives a joint that several axes turn to the end of its range"),
        (_core.stops.StopEnd.gave_up, "was given up"),
    ):
        count = sum(each == end for each in batch.end)
        if count:
            words.append(f"{kind}, {count} of {len(batch.end)}: the arm {meaning}; not looked at further")
    hit = (np.asarray(batch.impact_speed) > 0).any(axis=0)
    if hit.any():
        names = ", ".join(name for name, met in zip(model.joint_names, hit, strict=True) if met)
        words.append(f"{kind}: {names} meets the end of its range; what the impact itself asks is in no row")
    return words
