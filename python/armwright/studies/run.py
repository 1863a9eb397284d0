"""What every study needs: progress, the number of threads, a grid, tool attitudes, and the word on what was
cancelled."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from difflib import get_close_matches
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from armwright import _core
from armwright.errors import InputError

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Arrays = dict[str, NDArray[Any]]
Report = Callable[[int, int], bool | None]
Progress = bool | Report | None
Attitude = Literal["any", "down", "level"]

turn_step = np.deg2rad(15.0)  # between the values tried of a redundant joint that turns
most_positions = 50_000_000  # a grid of more is surely a slip of the unit
most_track_positions = 20_000  # and so are more along a track
most_combinations = 25_000  # of values of several joints beyond what a pose needs
most_attitudes = 1_000_000  # at a position


class Cancelled(RuntimeError):  # noqa: N818  what happened is no error
    """A study that its progress callable stopped, by returning False.

    >>> try:
    ...     cell.reach_map("300 mm", directions=6, spins=1, progress=lambda done, of: False)
    ... except aw.Cancelled:
    ...     print("stopped")
    stopped
    """


@contextmanager
def reported(progress: Progress, words: str, part: int = 0, parts: int = 1) -> Iterator[Report | None]:
    """The callable that the core reports to: the caller's own, a bar for True, none for False or None. A study of
    several parts tells the caller one count that grows over all of them, in thousandths of a part."""
    if progress is None or progress is False:
        yield None
    elif progress is True:
        from tqdm.auto import tqdm

        with tqdm(total=1, desc=words, unit="piece", leave=False, disable=None) as bar:  # none: only on a terminal

            def show(done: int, total: int) -> bool:
                bar.total = total
                bar.update(done - bar.n)
                return True

            yield show
    elif callable(progress):
        yield part_of(progress, part, parts)
    else:
        raise InputError.of("progress", repr(progress), "True, False, None or a callable of (done, total)")


def part_of(report: Report | None, part: int, parts: int) -> Report | None:
    """What one part of several reports to."""
    if report is None or parts == 1:
        return report
    return lambda done, total: report(1000 * part + 1000 * done // max(total, 1), 1000 * parts)


def whole(key: str, value: Any, least: int, most: int) -> int:
    """A whole number within bounds."""
    if isinstance(value, bool) or not isinstance(value, int | np.integer) or not least <= value <= most:
        raise InputError.of(key, repr(value), f"a whole number, {least} to {most}")
    return int(value)


def threads_of(threads: Any) -> int:
    """Number of threads; None is as many as the machine has (0 for the core)."""
    return 0 if threads is None else whole("threads", threads, 1, 1024)


def share_of(key: str, value: Any) -> float:
    """A number above 0 and up to 1."""
    try:
        share = float(value)
    except (TypeError, ValueError):
        raise InputError.of(key, repr(value), "a share above 0, up to 1") from None
    if not 0 < share <= 1:
        raise InputError.of(key, share, "a share above 0, up to 1")
    return share


def track_step_of(inverse: _core.kinematics.ArmInverse, step: float) -> float:
    """The step between tried positions of sliding joints; refused if it makes too many."""
    model = inverse.model
    strokes = [
        model.upper[i] - model.lower[i]
        for i, kind in enumerate(model.joint_kinds)
        if kind == _core.model.JointKind.prismatic
    ]
    tried = max(strokes, default=0.0) / step  # infinite for a step next to nothing
    if tried > most_track_positions:
        raise InputError.of(
            "track_step",
            f"{step:g} m, which makes {_many(tried)} track positions",
            f"a step that makes at most {most_track_positions:,}",
        )
    check_combinations(inverse, step)
    return step


def check_combinations(inverse: _core.kinematics.ArmInverse, slide_step: float) -> None:
    """Refuses arms with so many joints beyond what a pose needs that trying all of their values would never end."""
    model, redundant = inverse.model, inverse.redundant
    tried = 1.0
    for joint in redundant:
        turns = model.joint_kinds[joint] != _core.model.JointKind.prismatic
        span = float(model.upper[joint] - model.lower[joint])
        tried *= (span if np.isfinite(span) else 2 * np.pi) / (turn_step if turns else slide_step) + 1
    if tried > most_combinations:
        names = ", ".join(model.joint_names[joint] for joint in redundant)
        raise InputError.of(
            "arm",
            f"{len(redundant)} joints beyond what a pose needs ({names}), with {_many(tried)} combinations to try",
            f"at most {most_combinations:,}: fewer such joints, narrower ranges or a longer track step",
        )


def check_positions(spacing: float, count: float) -> None:
    """Refuses a spacing that makes too many positions."""
    if count > most_positions:
        raise InputError.of(
            "spacing",
            f"{spacing:g} m, which makes {_many(count)} positions",
            f"a spacing that makes at most {most_positions:,}",
        )


def check_coarse(spacing: float, reach: float) -> None:
    """Refuses a spacing that would step over all that the arm can reach, and call it nothing."""
    if spacing > reach > 1e-6:
        raise InputError.of("spacing", f"{spacing:g} m", f"less than the arm's reach, {reach:.3g} m")


def _many(count: float) -> str:
    return f"{count:,.0f}" if count < 1e15 else f"{count:.3g}" if math.isfinite(count) else "countless"


def joint_units(model: _core.model.Model) -> NDArray[np.str_]:
    """The unit of each joint's value: "m" where it slides, else "rad"."""
    return np.array(["m" if kind == _core.model.JointKind.prismatic else "rad" for kind in model.joint_kinds])


def core_limit(limit: Any) -> _core.limits.Limit:
    """The core's word for which torque counts."""
    known = {"continuous": _core.limits.Limit.continuous, "peak": _core.limits.Limit.peak}
    if not isinstance(limit, str) or limit not in known:
        raise InputError.of(
            "limit", repr(limit), "one of " + ", ".join(known), "".join(get_close_matches(str(limit), known, 1))
        )
    return known[limit]


def parts_of(model: _core.model.Model, limit: str) -> tuple[NDArray[np.str_], NDArray[np.int64]]:
    """What sets the torque that each axis holds at rest: the names, each once, and each axis' place among them, with -1
    for none at the end (where -1 looks for it)."""
    own = model.continuous_parts if limit == "continuous" else model.peak_parts
    names = list(dict.fromkeys(name for name in own if name))
    return np.array(names, dtype=np.str_), np.array([*(names.index(name) if name else -1 for name in own), -1])


def axes_of(lower: Sequence[float] | Floats, upper: Sequence[float] | Floats, spacing: float) -> list[Floats]:
    """Grid coordinates along x, y, z: multiples of the spacing that cover the box, so that maps of one spacing
    align."""
    check_positions(spacing, math.prod((float(b) - float(a)) / spacing + 1 for a, b in zip(lower, upper, strict=True)))
    if max(np.abs(lower).max(), np.abs(upper).max()) / spacing > 2**52:  # neighbours would be one and the same number
        raise InputError.of("spacing", f"{spacing:g} m", "a spacing that is not lost beside the bounds")
    counts = [math.ceil(b / spacing) - math.floor(a / spacing) + 1 for a, b in zip(lower, upper, strict=True)]
    check_positions(spacing, math.prod(counts))
    return [spacing * (math.floor(a / spacing) + np.arange(n)) for a, n in zip(lower, counts, strict=True)]


def positions_of(axes: Sequence[Floats]) -> Floats:
    """Positions of a grid, the last axis fastest, (n, 3). Nothing besides is held of so many numbers meanwhile."""
    positions = np.empty((*map(len, axes), len(axes)))
    for along, values in enumerate(np.meshgrid(*axes, indexing="ij", copy=False)):
        positions[..., along] = values
    return positions.reshape(-1, len(axes))


def grid_terms(axes: Sequence[Floats], spacing: float) -> dict[str, Any]:
    """What tells one grid from another."""
    return {"spacing": spacing, "lower": [axis[0] for axis in axes], "upper": [axis[-1] for axis in axes]}


def box_of(
    bounds: tuple[Floats, Floats] | None, spacing: float, model: _core.model.Model
) -> tuple[Floats, Floats]:
    """Lower and upper corner of the region to be mapped: as given, or all that the arm could reach from its track."""
    if bounds is not None:
        return bounds
    reach = _core.studies.longest_reach(model)
    check_coarse(spacing, reach)
    ends = [model.lower[0], model.upper[0]] if model.has_track else [0.0]
    roots = np.array([_core.studies.arm_root(model, end) for end in ends])
    return roots.min(axis=0) - reach, roots.max(axis=0) + reach


def attitudes_for(attitude: Attitude, directions: int | Floats, spins: int) -> Floats:
    """Tool attitudes to be tried, (n, 3, 3): tool axis (z) any way (or along the ``directions`` given), straight down,
    or level all round."""
    if isinstance(directions, np.ndarray):
        if attitude != "any":
            raise InputError.of("directions", "a list of directions", f'a number with attitude "{attitude}"')
        if len(directions) * spins > most_attitudes:
            raise InputError.of("directions", f"{len(directions):,}", f"at most {most_attitudes:,} attitudes in all")
        return np.asarray(_core.studies.attitudes_along(directions, spins))
    directions = whole("directions", directions, 1, 100_000)
    if directions * spins > most_attitudes:
        raise InputError.of(
            "directions, spins", f"{directions:,} and {spins:,}", f"at most {most_attitudes:,} attitudes in all"
        )
    if attitude == "any":
        along = _core.studies.spread_directions(directions)
    elif attitude == "down":
        along = np.array([[0.0, 0.0, -1.0]])
    elif attitude == "level":
        turn = 2 * np.pi * np.arange(directions) / directions
        along = np.stack([np.cos(turn), np.sin(turn), 0 * turn], axis=-1)
    else:
        raise InputError.of("attitude", repr(attitude), '"any", "down" or "level"')
    return np.asarray(_core.studies.attitudes_along(along, spins))


def some_attitude() -> Floats:
    """One attitude, aslant to everything, for a tool frame that turns freely."""
    return np.asarray(_core.studies.attitudes_along(np.array([[0.36, 0.48, 0.8]]), 1))


def finished(complete: bool) -> None:
    """Raises if the study was stopped before its end."""
    if not complete:
        raise Cancelled("stopped by its progress callable before the end")
