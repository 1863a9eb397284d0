"""What a placement found, as a labelled data set."""

from __future__ import annotations

import hashlib
from typing import Any, NamedTuple

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright.designs.placement import search
from armwright.designs.placement.job import Choice, Job
from armwright.designs.placement.place import NUMBERS, stand_pose
from armwright.designs.placement.proof import Proof, prove
from armwright.designs.placement.scoring import Scores
from armwright.results import make_dataset

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


class Found(NamedTuple):
    """The places found, each with its proof; how many were checked; which is recommended."""

    choices: list[Choice]
    proofs: list[Proof]
    checked: int
    best: int


def _aim_values(job: Job, worst: Floats) -> Floats:
    """Of measures (n, 3) the values of the aims; of answers NaN."""
    columns = [worst[:, aim.measure] if aim.measure >= 0 else np.full(len(worst), np.nan) for aim in job.aims]
    return np.stack(columns, axis=1)


def told(
    job: Job, sample: search.Sample, sampled: Scores, pool: Scores, found: Found, digest: str
) -> xr.Dataset:  # fmt: skip
    """The result. ``sampled``: the scores of the sample; ``pool``: of all places."""
    choices, proofs = found.choices, found.proofs
    now = prove(job.cell, job.scoring, job.aims, job.measures[0], None, job.how.threads)
    numbers = np.array([choice.numbers for choice in choices]).reshape(-1, 6)
    each = [aim.measure for aim in job.aims]
    promised = Scores(*(np.concatenate(part) for part in zip(*(choice.scored for choice in choices), strict=True)))
    by = np.array([choice.measure for choice in choices])
    kept = [proof.checked for proof in proofs]
    own = pool.worst[:, [max(m, 0) for m in each], [max(m, 0) for m in each]]
    variables: dict[str, Any] = {
        "position": now.checked.position.values,
        **_place_variables("place", numbers, np.array([choice.attitude for choice in choices])),
        "stand_pose": np.array([proof.pose for proof in proofs]),
        "served_count": np.array([proof.count for proof in proofs]),
        "worst": np.array([proof.worst for proof in proofs]),
        "worst_at": np.array([proof.worst_at for proof in proofs]),
        "chosen_by": np.array([each.index(m) if m in each else -1 for m in by]),
        "promised_count": promised.served,
        "promised_worst": _aim_values(job, promised.worst[np.arange(len(by)), by]),
        **{key: np.array([check[key].values for check in kept]) for key in ("served", "reason", "q", "limit_margin")},
        "clearance_spare": np.array([proof.measures[:, 1] for proof in proofs]),
        "payload_spare": np.array([proof.measures[:, 2] for proof in proofs]),
        "now_served": now.served, "now_worst": now.worst,
        **_place_variables("candidate", pool.numbers, pool.attitude),
        "candidate_count": pool.served,
        "candidate_worst": np.where(np.array(each) >= 0, own, np.nan),
    }  # fmt: skip
    coords: dict[str, Any] = {
        "target": np.array([target.name for target in job.scoring.targets]),
        "joint": kept[0].joint.values, "joint_unit": kept[0].joint_unit.values,
        "aim": np.array([aim.name for aim in job.aims]), "aim_unit": np.array([aim.unit for aim in job.aims]),
        "aim_better": np.array([aim.better for aim in job.aims]),
        "choice": np.arange(len(choices)), "candidate": np.arange(len(pool.served)),
        "row": np.arange(4), "column": np.arange(4),
    }  # fmt: skip
    _add_plan(job, sample, sampled, variables, coords)
    _add_zones(job, variables, coords)
    stand = "parked arm" if job.space.parked else "track" if job.cell.track is not None else "base"
    attrs = {
        "stand": stand, "best": found.best, "seed": job.seed, "places_tried": len(pool.served),
        "places_checked": found.checked, "now_place": stand_pose(job.cell.description)[:3, 3].tolist(),
        "going_along": "\n".join(job.scoring.going_along), "limit": job.scoring.limit, "margin": job.scoring.margin,
    }  # fmt: skip
    labels = job.cell._labels
    return make_dataset("placement", variables, coords, attrs | labels["labels"], digest, labels["arm_name"])


def _place_variables(prefix: str, numbers: Floats, attitude: Ints) -> dict[str, Any]:
    return {f"{prefix}_{name}": numbers[:, k] for k, name in enumerate(NUMBERS)} | {f"{prefix}_attitude": attitude}


def _add_plan(
    job: Job, sample: search.Sample, sampled: Scores, variables: dict[str, Any], coords: dict[str, Any]
) -> None:
    if not (len(sample.x) and len(sample.y)):
        return
    shape = (len(sample.y), len(sample.x))
    keys = search.by_measure(job.measures[0])(sampled).reshape(*shape, -1, 2)
    best = np.array([[search.order_of(cell)[0] for cell in row] for row in keys])
    count, worst = (np.take_along_axis(keys[..., k], best[..., None], axis=2)[..., 0] for k in (0, 1))
    variables["plan_count"] = count.astype(np.int64)
    if job.aims[0].measure >= 0:
        variables["plan_worst"] = np.where(count > 0, worst, np.nan)
    else:
        variables["plan_worst"] = np.full(shape, np.nan)
    coords |= {"x": sample.x, "y": sample.y}


def _add_zones(job: Job, variables: dict[str, Any], coords: dict[str, Any]) -> None:
    if job.scoring.zones:
        parts = [np.array([*zone.corners, zone.corners[0], (np.nan, np.nan)]) for zone in job.scoring.zones]
        corners = np.concatenate(parts)[:-1]
        variables |= {"zone_x": corners[:, 0], "zone_y": corners[:, 1]}
        coords["zone_corner"] = np.arange(len(corners))


def digest_of(job: Job) -> str:
    """All that went in."""
    scoring, state = job.scoring, hashlib.sha256(job.cell.digest().encode())
    told = (
        job.space.lower.tolist(), job.space.upper.tolist(), job.space.attitudes, scoring.wanted, scoring.limit,
        scoring.margin, scoring.centre, scoring.zones, scoring.going_along, job.samples, job.spacing, job.seed,
        [aim[:3] for aim in job.aims],
    )  # fmt: skip
    for target in scoring.targets:
        state.update(target.digest().encode())
    state.update(repr(told).encode())
    return state.hexdigest()
