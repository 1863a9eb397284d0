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
Report = Callable[[int, int], bool | None]
Progress = bool | Report | None
Attitude = Literal["any", "down", "level"]

turn_step = np.deg2rad(15.0)  # between the values tried of a redundant joint that turns
most_positions = 50_000_000  # a grid of more is surely a slip of the unit
most_track_positions = 20_000  # and so are more along a track


class Cancelled(RuntimeError):  # noqa: N818  what happened is no error
    """A study that its progress callable stopped, by returning False."""


@contextmanager
def reported(progress: Progress, words: str, part: int = 0, parts: int = 1) -> Iterator[Report | None]:
    """The callable that the core reports to: the caller's own, a bar for True, none for False or None. A study of
    several parts tells the caller one count that grows over all of them, in thousandths of a part."""
    if progress is None or progress is False:
        yield None
    elif progress is True:
        from tqdm.auto import tqdm

        with tqdm(total=1, desc=words, unit="piece", leave=False) as bar:

            def show(done: int, total: int) -> bool:
                bar.total = total
                bar.update(done - bar.n)
                return True

            yield show
    elif callable(progress):
        own = progress
        yield own if parts == 1 else lambda done, total: own(1000 * part + 1000 * done // max(total, 1), 1000 * parts)
    else:
        raise InputError.of("progress", repr(progress), "True, False, None or a callable of (done, total)")


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


def track_step_of(model: _core.model.Model, step: float) -> float:
    """The step between tried positions of sliding joints; refused if it makes too many."""
    strokes = [
        model.upper[i] - model.lower[i]
        for i, kind in enumerate(model.joint_kinds)
        if kind == _core.model.JointKind.prismatic
    ]
    tried = math.ceil(max(strokes, default=0.0) / step)
    if tried > most_track_positions:
        raise InputError.of(
            "track_step",
            f"{step:g} m, which makes {tried:,} track positions",
            f"a step that makes at most {most_track_positions:,}",
        )
    return step


def check_positions(spacing: float, count: int) -> None:
    """Refuses a spacing that makes too many positions."""
    if count > most_positions:
        raise InputError.of(
            "spacing",
            f"{spacing:g} m, which makes {count:,} positions",
            f"a spacing that makes at most {most_positions:,}",
        )


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


def axes_of(lower: Sequence[float] | Floats, upper: Sequence[float] | Floats, spacing: float) -> list[Floats]:
    """Grid coordinates along x, y, z: multiples of the spacing that cover the box, so that maps of one spacing
    align."""
    counts = [math.ceil(b / spacing) - math.floor(a / spacing) + 1 for a, b in zip(lower, upper, strict=True)]
    check_positions(spacing, math.prod(counts))
    return [spacing * (math.floor(a / spacing) + np.arange(n)) for a, n in zip(lower, counts, strict=True)]


def box_of(
    bounds: tuple[Floats, Floats] | None, search: _core.studies.PostureSearch, model: _core.model.Model
) -> tuple[Floats, Floats]:
    """Lower and upper corner of the region to be mapped: as given, or all that the arm could reach from its track."""
    if bounds is not None:
        return bounds
    ends = [model.lower[0], model.upper[0]] if model.has_track else [0.0]
    roots = np.array([search.arm_root(end) for end in ends])
    return roots.min(axis=0) - search.reach, roots.max(axis=0) + search.reach


def attitudes_for(attitude: Attitude, directions: int, spins: int) -> Floats:
    """Tool attitudes to be tried, (n, 3, 3): tool axis (z) any way, straight down, or level all round."""
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


def finished(complete: bool) -> None:
    """Raises if the study was stopped before its end."""
    if not complete:
        raise Cancelled("stopped by its progress callable before the end")
