"""Where the stand should be: the search, and the proof of what it found."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright.designs.placement import pareto, search
from armwright.designs.placement.job import Choice, Job
from armwright.designs.placement.place import ATTITUDES, attitude_of, numbers_of, stand_pose
from armwright.designs.placement.proof import Proof, prove
from armwright.designs.placement.scoring import Score, Scorer, Scores
from armwright.designs.placement.told import Found, digest_of, told
from armwright.errors import InputError
from armwright.studies import run

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_COARSE, _FINE = 24, 160  # attitudes of a work point while sampling, and for the last steps
_STARTS = 8
_CHECKED = 3  # places of one aim
_MEMBERS = 12  # of a Pareto set
_ASKED = 24  # places of which answers are asked before the last rounds
_ROUNDS = 8


class _Search(NamedTuple):
    """A job in work."""

    job: Job
    scorer: Scorer
    steps: Floats  # how far apart places are in the sample

    def score(self, most: int, thorough: bool = False) -> Score:
        return self.scorer.with_attitudes(most, thorough)


def placement(job: Job) -> xr.Dataset:
    """See Cell.placement."""
    sample = search.spread(job.space, job.samples, job.spacing, job.seed)
    many = len(job.aims) > 1 or any(aim.answer is not None for aim in job.aims)
    digest = digest_of(job)
    with (
        job.how.opened("placement", digest, {}) as work,
        run.reported(job.how.progress, "places") as report,
    ):
        own = _Search(job, Scorer(job.scoring, work, report), sample.steps)
        sampled = own.score(_COARSE)(sample.numbers, sample.attitude)
        pool = sampled + _starting_place(own)
        if pool.served.max() < 0:
            tried = f"{len(pool.served)} places tried, and nowhere to stand clear of fixtures and zones"
            raise InputError.of("placement", tried, "bounds with room for it, or more samples")
        pool = pool + _more_served(own, pool)
        found, pool = (_of_many if many else _of_one)(own, pool)
    choices, proofs, checked = found
    best = 0 if not many else pareto.balanced(_greater(job, [proof.worst for proof in proofs]))
    return told(job, sample, sampled, pool, Found(choices, proofs, checked, best), digest)


def _starting_place(own: _Search) -> Scores:
    """Where it stands now, if that is allowed."""
    job = own.job
    pose = stand_pose(job.cell.description)
    numbers, attitude = numbers_of(pose), ATTITUDES.index(attitude_of(pose[:3, :3]))
    rows = 1 if job.space.has(numbers, attitude) and not job.space.parked else 0
    return own.score(_COARSE)(numbers[None][:rows], np.array([attitude])[:rows])


def _more_served(own: _Search, pool: Scores) -> Scores:
    """From places where what is not served lacks least, so long as some is not."""
    job, steps = own.job, own.steps
    if pool.served.max(initial=0) >= len(job.scoring.targets):
        return pool.rows(slice(0, 0))
    by_lack = search.order_of(-pool.lacking[:, None])
    starts = np.union1d(
        search.distinct(pool, search.order_of(search.nearly_served(pool)), steps, _STARTS),
        search.distinct(pool, by_lack, steps, _STARTS),
    )
    score, key = own.score(_COARSE), search.nearly_served
    return search.climb(score, pool.rows(starts), job.space, steps, key, job.seed, 2.0**-5)


def _climbed(own: _Search, pool: Scores, measure: int) -> tuple[Scores, Scores]:
    """The best places by one measure, and all that was scored on the way."""
    job, steps = own.job, own.steps
    key = search.by_measure(measure)
    starts = pool.rows(search.distinct(pool, search.order_of(key(pool)), steps, _STARTS))
    pool = pool + search.climb(own.score(_COARSE), starts, job.space, steps, key, job.seed, 2.0**-5)
    near = steps / 4
    last = pool.rows(search.distinct(pool, search.order_of(key(pool)), near, _CHECKED))
    fine = own.score(_FINE, thorough=True)
    seen = search.climb(fine, fine(last.numbers, last.attitude), job.space, near, key, job.seed + 1)
    ends = seen.rows(slice(len(seen.served) - len(last.served), None))
    return ends.rows(search.order_of(key(ends))), pool + seen


def _of_one(own: _Search, pool: Scores) -> tuple[tuple[list[Choice], list[Proof], int], Scores]:
    job, measure = own.job, own.job.measures[0]
    ends, pool = _climbed(own, pool, measure)
    choices = [_choice(ends, row, measure) for row in range(len(ends.served))]
    proofs = [_proof(job, choice) for choice in choices]
    keys = np.array([[proof.count, np.nan_to_num(proof.worst[0], nan=-np.inf)] for proof in proofs]).reshape(-1, 2)
    order = search.order_of(keys)
    return ([choices[i] for i in order], [proofs[i] for i in order], len(proofs)), pool


def _of_many(own: _Search, pool: Scores) -> tuple[tuple[list[Choice], list[Proof], int], Scores]:
    job = own.job
    for measure in job.measures:
        _, pool = _climbed(own, pool, measure)
    pool = _widened(own, pool)
    rows, by, values = _alternatives(job, pool)
    answers = [aim for aim in job.aims if aim.answer is not None]
    if answers:
        features = np.concatenate([pareto.scaled(values), pareto.scaled(pool.numbers[rows][:, job.space.free])], axis=1)
        picked = pareto.spread_out(features, _ASKED)
    else:
        front = np.flatnonzero(pareto.not_dominated(values))
        picked = front[pareto.spread_out(values[front], _MEMBERS)]
    choices = [_choice(pool, rows[i], by[i]) for i in picked]
    proofs = [_proof(job, choice) for choice in choices]
    for turn in range(3 if answers else 0):
        more, pool = _nearby(own, pool, choices, proofs, turn)
        choices += more
        proofs += [_proof(job, choice) for choice in more]
    kept = _kept(job, proofs)
    return ([choices[i] for i in kept], [proofs[i] for i in kept], len(proofs)), pool


def _alternatives(job: Job, pool: Scores) -> tuple[Ints, Ints, Floats]:
    """The places that serve most, each with postures chosen by each measure: rows, measures, values of the aims that
    are measures."""
    most = np.flatnonzero(pool.served == max(0, pool.served.max(initial=0)))
    by = np.repeat(job.measures, len(most))
    rows = np.tile(most, len(job.measures))
    told = [aim.greater(pool.worst[rows, by, aim.measure]) for aim in job.aims if aim.measure >= 0]
    return rows, by, np.stack(told or [pool.worst[rows, by, 0]], axis=1)


def _widened(own: _Search, pool: Scores) -> Scores:
    """Round by round, with smaller and smaller steps, from what is not dominated to more of it."""
    job, steps = own.job, own.steps
    rng, free = np.random.default_rng([job.seed, 2]), job.space.free
    for turn in range(_ROUNDS if len(free) else 0):
        rows, _, values = _alternatives(job, pool)
        front = np.flatnonzero(pareto.not_dominated(values))
        around = np.unique(rows[front[pareto.spread_out(values[front], 2 * _MEMBERS)]])
        ways = rng.standard_normal((len(around), 2 * len(free) + 2, len(free)))
        ways /= np.linalg.norm(ways, axis=2, keepdims=True)
        tried = np.repeat(pool.numbers[around, None], ways.shape[1], axis=1)
        tried[..., free] += ways * steps[free] / 2.0**turn
        numbers = job.space.within(tried.reshape(-1, 6))
        last = turn >= _ROUNDS - 3
        score = own.score(_FINE if last else _COARSE, thorough=last)
        pool = pool + score(numbers, np.repeat(pool.attitude[around], ways.shape[1]))
    return pool


def _nearby(
    own: _Search, pool: Scores, choices: list[Choice], proofs: list[Proof], turn: int
) -> tuple[list[Choice], Scores]:
    """Places about those that are not dominated so far, spread out, that serve as many points."""
    job, steps = own.job, own.steps / 2.0 ** (turn + 1)
    rng, free = np.random.default_rng([job.seed, 3, turn]), job.space.free
    if not len(free):
        return [], pool
    front = [choices[i] for i in _kept(job, proofs)]
    ways = rng.standard_normal((len(front), 8, len(free)))
    tried = np.repeat(np.array([choice.numbers for choice in front])[:, None], 8, axis=1)
    tried[..., free] += ways * steps[free]
    numbers = job.space.within(tried.reshape(-1, 6))
    found = own.score(_COARSE)(numbers, np.repeat([choice.attitude for choice in front], 8))
    most = np.flatnonzero(found.served >= max(proof.count for proof in proofs))
    if len(most):
        most = most[pareto.spread_out(pareto.scaled(found.numbers[most][:, free]), _ASKED // 3)]
    return [_choice(found, int(row), front[row // 8].measure) for row in most], pool + found


def _kept(job: Job, proofs: list[Proof]) -> list[int]:
    """Of the proven those that serve most and are not dominated, the first aim's best first."""
    most = max(proof.count for proof in proofs)
    rows = [i for i, proof in enumerate(proofs) if proof.count == most]
    values = _greater(job, [proofs[i].worst for i in rows])
    return [rows[i] for i in search.order_of(np.nan_to_num(values, nan=-np.inf)) if pareto.not_dominated(values)[i]]


def _greater(job: Job, worst: list[Floats]) -> Floats:
    table = np.array(worst).reshape(-1, len(job.aims))
    return np.stack([aim.greater(table[:, k]) for k, aim in enumerate(job.aims)], axis=1)


def _choice(scores: Scores, row: int, measure: int) -> Choice:
    return Choice(scores.numbers[row], int(scores.attitude[row]), int(measure), scores.rows([row]))


def _proof(job: Job, choice: Choice) -> Proof:
    return prove(job.cell, job.scoring, job.aims, choice.measure, (choice.numbers, choice.attitude), job.how.threads)
