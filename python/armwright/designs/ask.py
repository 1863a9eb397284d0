"""Ready answers: what can be asked of any cell. ``aw.ask.payload("kiln")`` makes an Answer.

Where a work point is left open, all of the cell's count, and the worst of them; in a study over many designs, all that
the first design has a posture for (or all, if it has none), so that a design which loses one has no answer rather than
a better one.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np

from armwright import arguments
from armwright.describe import Cycle
from armwright.designs.answer import Answer, Asked, none_because, threads
from armwright.designs.held import HeldPosture, hold, posture_in
from armwright.designs.track_answers import stroke, track_cost
from armwright.errors import InputError
from armwright.timed import TimedMotion

if TYPE_CHECKING:
    from armwright.cell import Cell

__all__ = [
    "clearance", "cycle_load", "cycle_time", "greatest_share", "limit_margin", "payload", "payload_margin",
    "reachable_volume", "served", "speed_factor", "stop_drop", "stroke", "track_cost", "usual",
]  # fmt: skip

Names = tuple[str, ...]


def payload(target: str) -> Answer:
    """Mass held at a work point in its best posture, kg, by continuous torques, whatever is wanted there; its centre of
    gravity that of the load there.

    >>> round(aw.ask.payload("over the tub").of(cell).value, 2)
    8.25
    """
    return _over_targets(f"payload at {target}", "kg", _payload, (target,))


def payload_margin(target: str | None = None) -> Answer:
    """By how much more than is wanted there can be held at a work point, kg; of several, at the worst.

    >>> aw.ask.payload_margin()
    Answer "least payload margin" (kg), the more the better
    """
    return _over_targets(_named("payload margin", target), "kg", _payload_margin, _one(target))


def limit_margin(target: str | None = None) -> Answer:
    """Distance from the joint limits in the posture of a work point: 0 at a limit, 1 at mid-range; of several, the
    least.

    >>> round(aw.ask.limit_margin("over the tub").of(cell).value, 2)
    0.66
    """
    return _over_targets(_named("limit margin", target), "1", _limit_margin, _one(target))


def clearance(target: str | None = None) -> Answer:
    """Distance from everything in the posture of a work point, m, with what is carried there; of several, the least.

    >>> print(f"{1000 * aw.ask.clearance('over the tub').of(cell).value:.0f} mm")
    60 mm
    """
    return _over_targets(_named("clearance", target), "m", _clearance, _one(target), noise=1e-8)


def stop_drop(target: str | None = None) -> Answer:
    """How far the tool drops in the posture of a work point when the power goes at rest, until the brakes hold, m, with
    the load there; of several, the most.

    >>> aw.ask.stop_drop("over the tub")
    Answer "drop without power at over the tub" (m), the less the better
    """
    return _over_targets(_named("drop without power", target), "m", _drop, _one(target), "less", noise=1e-6)


def served(targets: Sequence[str] | None = None) -> Answer:
    """How many work points are served.

    >>> aw.ask.served().of(cell).value
    3.0
    """
    names = None if targets is None else tuple(targets)
    return Answer("points served", "1", partial(_served, names), bound=partial(_bound_served, names), counts=True)


def reachable_volume(spacing: Any = 0.25, directions: Any = 12, spins: int = 1) -> Answer:
    """Volume that the tool point reaches in any attitude, m³, from a coarse grid: see Cell.reach_map.

    >>> aw.ask.reachable_volume("400 mm")
    Answer "reachable volume" (m3), the more the better
    """
    kept = arguments.length("spacing", spacing)
    return Answer("reachable volume", "m3", partial(_volume, kept, directions, spins), step=0.05, noise=0.01)


def cycle_time(cycle: Cycle) -> Answer:
    """Duration of a cycle, timed at its limits, s.

    >>> print(f"{aw.ask.cycle_time(cycle).of(cell).value:.1f} s")
    13.7 s
    """
    return Answer(f"time of {_of(cycle)}", "s", partial(_cycle_time, cycle), "less", step=0.01, noise=1e-6)


def greatest_share(cycle: Cycle | TimedMotion) -> Answer:
    """The greatest share that a cycle takes of what any motor or stage bears, 1; see Cell.drive_check.

    >>> aw.ask.greatest_share(cycle)
    Answer "greatest share of a part in rack, glaze, kiln" (1), the less the better
    """
    name = f"greatest share of a part in {_of(cycle)}"
    return Answer(name, "1", partial(_share, cycle), "less", partial(_share_again, cycle), step=0.01, noise=1e-6)


def speed_factor(cycle: Cycle | TimedMotion) -> Answer:
    """How many times as fast a cycle could go, standing times kept.

    >>> aw.ask.speed_factor(cycle)
    Answer "speed factor of rack, glaze, kiln" (1), the more the better
    """
    of = partial(_of_check, cycle, "speed_factor", "speed_limit")
    return Answer(f"speed factor of {_of(cycle)}", "1", of, step=0.01, noise=1e-6)


def cycle_load(cycle: Cycle | TimedMotion) -> Answer:
    """The heaviest load that a cycle could carry in its time, kg, all loads grown alike.

    >>> print(f"{aw.ask.cycle_load(cycle).of(cell).value:.1f} kg")
    10.3 kg
    """
    of = partial(_of_check, cycle, "greatest_load_mass", "load_limit")
    return Answer(f"greatest load in {_of(cycle)}", "kg", of, step=0.01, noise=1e-6)


def usual(cell: Cell) -> list[Answer]:
    """What a cell with work points is asked unless told otherwise.

    >>> [answer.name for answer in aw.ask.usual(cell)]
    ['least payload margin', 'least limit margin', 'least clearance', 'points served']
    """
    if not cell.targets:
        raise InputError.of("answers", "none", "answers, or a cell with work points")
    return [payload_margin(), limit_margin(), clearance(), served()]


def usual_held(cell: Cell) -> list[Answer]:
    """Of those, what can be asked in the posture that is held, which is quick."""
    return [answer for answer in usual(cell) if answer.again is not None]


# Over work points: what each gives in a posture, and what the worst of them is.

Measure = Callable[["Cell", str, Any], tuple[float, str]]


def _over_targets(
    name: str, unit: str, measure: Measure, names: Names | None, better: Any = "more", noise: float = 1e-12
) -> Answer:
    return Answer(
        name, unit, partial(_worst, measure, better, names), better, partial(_worst_again, measure, better),
        partial(_bound, name, unit, measure, names, better, noise), step=1e-4 if noise < 1e-10 else 1e-3, noise=noise,
    )  # fmt: skip


def _bound(
    name: str, unit: str, measure: Measure, names: Names | None, better: Any, noise: float, cell: Cell
) -> Answer:
    if names is None:
        rows = checked(cell, tuple(target.name for target in cell.targets))
        names = tuple(key for key, row in rows.items() if row["q"] is not None) or tuple(rows)
    _known(cell, names)
    return _over_targets(name, unit, measure, names, better, noise)


def _worst(measure: Measure, better: Any, names: Names | None, cell: Cell) -> Asked:
    """Of all work points the worst, each in its own best posture."""
    if names is None:
        names = tuple(target.name for target in cell.targets)
    if not names:
        return none_because("no work points")
    rows = checked(cell, names)
    for name, row in rows.items():
        if row["q"] is None:
            return none_because(f"{name}: {row['reason']}")
    held = tuple(hold(cell, name, row["q"]) for name, row in rows.items())
    return _worst_of(measure, better, cell, {name: row["q"] for name, row in rows.items()}, held)


def _worst_again(measure: Measure, better: Any, cell: Cell, held: tuple[HeldPosture, ...]) -> Asked:
    known = cell.__dict__.setdefault("_held_postures", {})  # several answers hold the same
    postures = {}
    for each in held:
        key = (each.target, each.q.tobytes(), each.offset.tobytes())
        if key not in known:
            known[key] = posture_in(cell, each)
        postures[each.target] = known[key]
    for name, q in postures.items():
        if q is None:
            return none_because(f"{name}: cannot be reached in the posture that is held")
    return _worst_of(measure, better, cell, postures, held)


def _worst_of(measure: Measure, better: Any, cell: Cell, postures: dict[str, Any], held: Any) -> Asked:
    told = {name: measure(cell, name, q) for name, q in postures.items()}
    worst = (min if better == "more" else max)(told, key=lambda name: told[name][0])
    value, part = told[worst]
    return Asked(value, "", f"{worst}: {part}" if part else worst, held)


def checked(cell: Cell, names: Names) -> dict[str, dict[str, Any]]:
    """Of each work point its best posture ``q`` (None: there is none), whether it is ``served`` and why not; kept with
    the cell, so that it is found once."""
    known: dict[str, dict[str, Any]] = cell.__dict__.setdefault("_checked_targets", {})
    missing = [target for target in cell.targets if target.name in names and target.name not in known]
    if missing:
        result = cell.check_targets(missing, threads=threads())
        for i, target in enumerate(missing):
            q = result["q"].values[i]
            known[target.name] = {
                "q": None if np.isnan(q).any() else q, "served": bool(result["served"][i]),
                "reason": str(result["reason"].values[i]),
            }  # fmt: skip
    return {name: known[name] for name in _known(cell, names)}


def _known(cell: Cell, names: Names) -> Names:
    own = [target.name for target in cell.targets]
    for name in names:
        arguments.choice("target", name, dict.fromkeys(own))
    return names


def _load_at(cell: Cell, name: str) -> Any:
    return next(target.load for target in cell.targets if target.name == name) or cell.load


def _payload(cell: Cell, name: str, q: Any) -> tuple[float, str]:
    load = _load_at(cell, name)
    found = cell.payload(q, load.centre if load is not None else (0, 0, 0))
    by = f"{found.joint_name}, {found.limit_part}" if str(found.joint_name) else ""
    return float(found.mass), by


def _payload_margin(cell: Cell, name: str, q: Any) -> tuple[float, str]:
    mass, by = _payload(cell, name, q)
    load = _load_at(cell, name)
    return mass - (float(load.mass) if load is not None else 0.0), by


def _limit_margin(cell: Cell, name: str, q: Any) -> tuple[float, str]:
    lower, upper = cell.limits[:2]
    with np.errstate(invalid="ignore"):
        margins = np.minimum(q - lower, upper - q) / ((upper - lower) / 2)
    nearest = int(np.argmin(np.where(np.isfinite(upper - lower), margins, math.inf)))
    return float(cell.limit_margin(q)), cell.joint_names[nearest]


def _clearance(cell: Cell, name: str, q: Any) -> tuple[float, str]:
    from armwright import _core

    scene = cell._solids_with(next(target.load for target in cell.targets if target.name == name))
    distance, _, _, solids = _core.clearance.least_distances(scene, cell._model, np.atleast_2d(q))
    names = [*scene.solid_names, ""]
    pair = [names[i] for i in solids[0] if names[i]]
    return float(distance[0]), " and ".join(pair)


def _drop(cell: Cell, name: str, q: Any) -> tuple[float, str]:
    stopped = cell.stop(q, np.zeros(cell.joint_count), load=_load_at(cell, name), row_step=0, threads=threads())
    return float(stopped["tool_drop"]), str(stopped["end"].values)


def _bound_served(names: Names | None, cell: Cell) -> Answer:
    own = tuple(target.name for target in cell.targets)
    return served(own if names is None else _known(cell, names))


def _served(names: Names | None, cell: Cell) -> Asked:
    rows = checked(cell, tuple(target.name for target in cell.targets) if names is None else names)
    lost = [f"{name}: {row['reason']}" for name, row in rows.items() if not row["served"]]
    return Asked(float(len(rows) - len(lost)), "", "not " + "; ".join(lost) if lost else "all")


# Of the whole arm, and of cycles.


def _volume(spacing: float, directions: Any, spins: int, cell: Cell) -> float:
    told = cell.reach_map(spacing, directions=directions, spins=spins, threads=threads()).attrs
    return float(told["reachable_volume"])


def _cycle_time(cycle: Cycle, cell: Cell) -> Asked:
    return Asked(float(cell.timed(cycle).duration))


def _share(cycle: Any, cell: Cell) -> Asked:
    result = cell.drive_check(cycle, factors=False)
    limits = result["share_limit"].attrs["flag_meanings"].split()
    parts = [i for i, code in enumerate(result["share_limit"].values) if not limits[code].startswith("joint_")]
    if not parts:
        return none_because("no motor or stage with a limit")
    worst = max(parts, key=lambda i: float(result["share"][i]))
    label = str(result["check"].values[worst])
    return Asked(float(result["share"][worst]), "", label, label)


def _share_again(cycle: Any, cell: Cell, label: str) -> Asked:
    result = cell.drive_check(cycle, factors=False)
    labels = [str(name) for name in result["check"].values]
    if label not in labels:
        return none_because(f"{label}: no such part")
    return Asked(float(result["share"][labels.index(label)]), "", label, label)


def _of_check(cycle: Any, value: str, limit: str, cell: Cell) -> Asked:
    told = cell.drive_check(cycle).attrs
    if value not in told:
        return none_because("nothing is carried" if value == "greatest_load_mass" else "nothing limits it")
    return Asked(float(told[value]), "", str(told.get(limit, "")))


def _of(cycle: Any) -> str:
    if not isinstance(cycle, Cycle | TimedMotion):
        raise InputError.of("cycle", type(cycle).__name__, "a Cycle, as load_cycle reads one, or a TimedMotion")
    return str(getattr(cycle, "name", "the cycle"))


def _named(name: str, target: str | None) -> str:
    return f"least {name}" if target is None and name != "drop without power" else (
        f"greatest {name}" if target is None else f"{name} at {target}")  # fmt: skip


def _one(target: str | None) -> Names | None:
    return None if target is None else (target,)
