"""All joint vectors of many target poses."""

from __future__ import annotations

from itertools import product

import numpy as np

from armwright import _core
from armwright.errors import InputError
from armwright.studies import pieces, run
from armwright.studies.subject import Subject

_most_combinations = 100_000  # of values of redundant joints; more would never end
_most_numbers = 500_000_000  # in the answer, 4 GB; more is surely a slip


def solve(
    subject: Subject,
    targets: run.Floats,
    *,
    within_limits: bool,
    samples: int,
    how: pieces.How,
    inputs_digest: str,
) -> run.Arrays:
    """See Machine.solve: ``q`` (m, k, n), ``valid`` and ``free_joint`` (m, k)."""
    model, inverse = subject.model, subject.inverse
    each = run.whole("samples", samples, 1, 100_000)
    combinations = each ** len(inverse.redundant)
    if combinations > _most_combinations:
        names = ", ".join(model.joint_names[joint] for joint in inverse.redundant)
        raise InputError.of(
            "samples",
            f"{each}, which makes {combinations:,} combinations of {names}",
            f"samples that make at most {_most_combinations:,}",
        )
    numbers = combinations * len(targets) * inverse.most_solutions * model.joint_count
    if numbers > _most_numbers:
        raise InputError.of(
            "poses",
            f"{len(targets):,}, which makes an answer of {numbers:,} numbers",
            f"poses (or samples) that make at most {_most_numbers:,}; solve them in parts",
        )
    request = {"poses": targets, "within_limits": within_limits, "samples": each}
    return pieces.run_pieces(
        _prepare, (subject, within_limits, each), targets,
        study="solve", inputs_digest=inputs_digest, request=request, how=how,
    )  # fmt: skip


def _prepare(subject: Subject, within_limits: bool, samples: int) -> pieces.Compute:
    inverse, tried = subject.inverse, redundant_values(subject, samples)

    def compute(poses: run.Floats, threads: int, report: run.Report | None) -> run.Arrays:
        q, valid, free = _core.kinematics.solve(inverse, poses, tried, within_limits)
        return {"q": q, "valid": valid, "free_joint": free}

    return compute


def redundant_values(subject: Subject, samples: int, track: float | None = None) -> list[list[float]]:
    """Every combination of values of the joints that a pose leaves free, spread over their ranges; of a track, the one
    place that is given."""
    values: list[run.Floats] = []
    for joint in subject.inverse.redundant:
        lower, upper = subject.model.lower[joint], subject.model.upper[joint]
        if track is not None and joint == 0 and subject.model.has_track:
            values.append(np.array([track]))
        elif np.isfinite(upper - lower):
            values.append(np.linspace(lower, upper, samples if upper > lower else 1))
        else:
            values.append(np.linspace(-np.pi, np.pi, samples, endpoint=False))
    return [list(combination) for combination in product(*values)]
