"""The search: places spread over all that is allowed, then from the best of them step by step to better ones.

Sampling and steps depend on the seed alone. Scores are worked out in batches, whose rows do not depend on each other,
so that neither threads nor executors change a bit. How many points are served changes in jumps, and the worst of
several points has ridges: steps are tried along the axes, along directions drawn anew each round, and the way that the
last rounds went, which do not stall there as steps along the axes alone do.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from armwright.designs.placement.scoring import Scores
from armwright.designs.placement.space import Space
from armwright.errors import InputError

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Score = Callable[[Floats, Ints], Scores]
Key = Callable[[Scores], Floats]  # (n, k): what is to be as great as can be, first things first

most_places = 2_000_000
_PLAN = (0, 1)
_FINEST = 2.0**-11  # of the first steps
_MOST_ROUNDS = 80
_TURNS = 2  # sets of directions drawn for each round
_COURSE = 4  # rounds that tell which way a start has been going


class Sample(NamedTuple):
    """Places spread over the space; with ``x`` and ``y`` free a lattice in plan, y slowest, and at each of its points
    the same draws of the other numbers in each attitude."""

    numbers: Floats
    attitude: Ints
    x: Floats
    y: Floats
    steps: Floats  # (6,): how far neighbours are apart


def spread(space: Space, samples: int, spacing: float | None, seed: int) -> Sample:
    """Places over the whole space: a lattice in plan (or along the track), and over the other numbers points of an
    additive sequence (M. Roberts, "The unreasonable effectiveness of quasirandom sequences", 2018), begun by the
    seed."""
    spans = np.nan_to_num(space.upper - space.lower)
    lattice = [5] if space.parked else [k for k in _PLAN if spans[k] > 0]
    others = [k for k in space.free if k not in lattice]
    if not lattice:
        lattice, others = others[:1], others[1:]
    draws = {0: 1, 1: 8, 2: 24}.get(len(others), 48)
    each = draws * len(space.attitudes)
    if spacing is None:
        area = float(np.prod(spans[lattice])) if lattice else 1.0
        spacing = (area / max(4.0, samples / each)) ** (1 / max(1, len(lattice)))
    wanted = each * np.prod([spans[k] / spacing + 1 for k in lattice])
    if wanted > most_places:
        raise InputError.of("spacing", f"{spacing:g} m, which makes {wanted:,.0f} places", f"at most {most_places:,}")
    lines = [np.linspace(space.lower[k], space.upper[k], int(np.ceil(spans[k] / spacing - 1e-9)) + 1) for k in lattice]
    mesh = [grid.ravel() for grid in np.meshgrid(*reversed(lines), indexing="ij")][::-1] if lattice else []
    cells = len(mesh[0]) if mesh else 1
    numbers = np.tile(space.lower, (cells, len(space.attitudes), draws, 1))
    for k, values in zip(lattice, mesh, strict=True):
        numbers[..., k] = values[:, None, None]
    if others:
        drawn = _sequence(len(others), draws, seed)
        for place, k in enumerate(others):
            numbers[..., k] = space.lower[k] + drawn[:, place] * spans[k]
    attitude = np.broadcast_to(np.array(space.attitudes)[None, :, None], numbers.shape[:3])
    steps = np.where(spans > 0, np.minimum(spans / 4, [np.inf, np.inf, 0.25, 0.4, 0.4, np.inf]), 0.0)
    for k, line in zip(lattice, lines, strict=True):
        steps[k] = line[1] - line[0]
    plan = dict(zip(lattice, lines, strict=True))
    x, y = (plan.get(k, np.array([])) for k in _PLAN)
    return Sample(numbers.reshape(-1, 6), attitude.ravel().astype(np.int64), x, y, steps)


def _sequence(dims: int, count: int, seed: int) -> Floats:
    g = 2.0
    for _ in range(60):
        g = (1 + g) ** (1 / (dims + 1))
    begin = np.random.default_rng(seed).random(dims)
    return np.asarray((begin + np.arange(1, count + 1)[:, None] * g ** -np.arange(1.0, dims + 1)) % 1.0)


def by_measure(measure: int) -> Key:
    """How many points are served, then the worst of one measure."""

    def key(scores: Scores) -> Floats:
        worst = scores.worst[:, measure, measure]
        return np.stack([scores.served, np.where(np.isnan(worst), -np.inf, worst)], axis=1)

    return key


def nearly_served(scores: Scores) -> Floats:
    """How many points are served, then how little the others lack."""
    return np.stack([scores.served, -scores.lacking], axis=1)


def order_of(keys: Floats) -> Ints:
    """Rows from the best to the worst; of equal ones the earlier first."""
    return np.lexsort((np.arange(len(keys)), *(-keys[:, k] for k in reversed(range(keys.shape[1])))))


def distinct(scores: Scores, order: Ints, steps: Floats, count: int) -> Ints:
    """The first rows that lie apart from those before, by more than neighbours do."""
    scale = np.where(steps > 0, steps, np.inf)
    chosen: list[int] = []
    for row in order:
        if scores.served[row] < 0:
            continue
        if all(_apart(scores, row, other, scale) for other in chosen):
            chosen.append(int(row))
        if len(chosen) == count:
            break
    return np.array(chosen, dtype=np.int64)


def _apart(scores: Scores, a: int, b: int, scale: Floats) -> bool:
    if scores.attitude[a] != scores.attitude[b]:
        return True
    away = np.abs(scores.numbers[a] - scores.numbers[b])
    away[3:5] = np.minimum(away[3:5], 2 * np.pi - away[3:5])
    return float(np.nanmax(np.nan_to_num(away) / scale)) > 1.5


def climb(
    score: Score, starts: Scores, space: Space, steps: Floats, key: Key, seed: int, finest: float = _FINEST
) -> Scores:
    """From each start step by step to better places, until the steps are ``finest`` of the first ones; all places that
    were scored on the way, the last of each start at the end."""
    free, rng = space.free, np.random.default_rng([seed, 1])
    here, size = starts, np.ones(len(starts.served))
    seen, course = starts.rows(slice(0, 0)), [starts.numbers] * _COURSE
    if not len(free) or not len(starts.served):
        return starts
    for _ in range(_MOST_ROUNDS):
        moving = np.flatnonzero(size > finest)
        if not len(moving):
            break
        ways = size[moving, None, None] * _ways(rng, len(free))
        along = ((here.numbers - course[-_COURSE])[moving][:, free] / steps[free])[:, None]
        ways = np.concatenate([ways, along, 3 * along, 0.3 * along], axis=1)
        tried = np.repeat(here.numbers[moving, None], ways.shape[1], axis=1)
        tried[..., free] += ways * steps[free]
        found = score(space.within(tried.reshape(-1, 6)), np.repeat(here.attitude[moving], ways.shape[1]))
        seen = seen + found
        keys = key(found).reshape(len(moving), ways.shape[1], -1)
        now = key(here.rows(moving))
        rows = np.arange(len(here.served))
        for i, which in enumerate(moving):
            best = int(order_of(keys[i])[0])
            better = tuple(keys[i, best]) > tuple(now[i])
            size[which] = min(1.0, 1.5 * size[which]) if better else 0.5 * size[which]
            if better:
                rows[which] = len(rows) + i * ways.shape[1] + best
        here = (here + found).rows(rows)
        course.append(here.numbers)
    return seen + here


def _ways(rng: np.random.Generator, count: int) -> Floats:
    """Ways to step: along each axis, and along axes turned at random, both ways."""
    turned = [np.linalg.qr(rng.standard_normal((count, count)))[0].T for _ in range(_TURNS)]
    one_way = np.concatenate([np.eye(count), *turned])
    return np.concatenate([one_way, -one_way])
