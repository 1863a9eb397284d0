"""How sure answers are when numbers have tolerances: by derivatives, and by samples."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright import arguments
from armwright.describe import DesignNumber
from armwright.designs.answer import Answer, Asked, take_answers
from armwright.designs.ask import usual_held
from armwright.designs.asking import ask_derivatives, ask_samples, check_travels
from armwright.designs.changes import answer_coords, answer_variables, digest_of, number_coords
from armwright.designs.derivatives import Derivative
from armwright.designs.plan import unit_samples
from armwright.designs.spread import BAND, DISTRIBUTIONS, Distribution, deviation_of, linear_band, quantiles, shares
from armwright.designs.tolerances import take_tolerances
from armwright.errors import InputError
from armwright.results import make_dataset
from armwright.studies import run
from armwright.studies.pieces import How

if TYPE_CHECKING:
    from armwright.cell import Cell

Floats = NDArray[np.float64]
_MOST_SAMPLES = 1 << 20


def uncertainty(
    cell: Cell, answers: Any, tolerances: Any, distribution: Any, samples: Any, seed: Any, postures: Any, how: How
) -> xr.Dataset:
    """See Cell.uncertainty."""
    asked_of = take_answers(answers, cell, usual_held)
    numbers = take_tolerances(cell.description, tolerances)
    means: Distribution = arguments.choice("distribution", distribution, DISTRIBUTIONS)
    held = bool(arguments.choice("postures", postures, {"held": True, "anew": False}))
    count = run.whole("samples", samples, 0, _MOST_SAMPLES)
    if count & (count - 1) or count == 1:
        near = 1 << max(round(math.log2(count)), 1)
        raise InputError.of("samples", count, "a power of two, which spreads them evenly, or 0 for none", str(near))
    check_travels(how, asked_of)
    asked = [answer.ask(cell) for answer in asked_of]
    told = [f"{number.path}±{number.tolerance!r}" for number in numbers]
    names = [answer.name for answer in asked_of]
    digest = digest_of(cell, [*told, *names, means.words, str(count), str(seed), postures])
    rows = sample_values(numbers, means, count, seed)
    kept = [each.held if held else None for each in asked]
    with how.opened("uncertainty", digest, {"answers": names}) as work:
        with run.reported(how.progress, "design numbers", 0, 2) as report:
            slopes = ask_derivatives(work, cell.description, numbers, asked_of, asked, report)
        with run.reported(how.progress, "samples", 1, 2) as report:
            paths = [number.path for number in numbers]
            found = ask_samples(work, cell.description, paths, rows, asked_of, kept, report) if count else None
    variables = answer_variables(asked) | _linear(numbers, asked_of, asked, slopes, means)
    if found is not None:
        variables |= _sampled(rows, found, asked_of)
    coords = number_coords(numbers) | answer_coords(asked_of)
    coords["number_tolerance"] = np.array([number.tolerance for number in numbers])
    labels = cell._labels
    return make_dataset(
        "uncertainty", variables, coords,
        labels["labels"] | {"distribution": means.words, "band": list(BAND), "samples": count,
                            "seed": seed, "postures": postures},
        digest, labels["arm_name"],
    )  # fmt: skip


def sample_values(numbers: Sequence[DesignNumber], means: Distribution, count: int, seed: Any) -> Floats:
    """(count, numbers): a scrambled Sobol sequence, spread as the tolerances say."""
    middle = np.array([number.value for number in numbers])
    tolerance = np.array([number.tolerance for number in numbers])
    run.whole("seed", seed, 0, 2**63 - 1)
    if not count:
        return np.zeros((0, len(numbers)))
    return np.asarray(middle + tolerance * means.of_share(unit_samples("sobol", len(numbers), count, seed)))


def _linear(
    numbers: Sequence[DesignNumber], answers: Sequence[Answer], asked: Sequence[Asked],
    slopes: list[list[Derivative]], means: Distribution,
) -> dict[str, Any]:  # fmt: skip
    count = len(answers)
    low, high, deviation = (np.full(count, np.nan) for _ in range(3))
    share, reasons = np.full((count, len(numbers)), np.nan), [""] * count
    tolerance = np.array([number.tolerance for number in numbers])
    for k in range(count):
        column = [row[k] for row in slopes]
        # What is no more than its own error is none.
        gradient = np.array([0.0 if abs(slope.value) <= slope.error else slope.value for slope in column])
        lost = [i for i, slope in enumerate(column) if math.isnan(slope.value)]
        if lost:
            named = "" if len(lost) == len(column) else f"{numbers[lost[0]].path}: "
            reasons[k] = f"{named}{column[lost[0]].reason}"
            continue
        spread = np.abs(gradient) * tolerance
        width = linear_band(spread, means)
        deviation[k] = deviation_of(spread, means)
        low[k], high[k] = asked[k].value - width, asked[k].value + width
        if spread.any():
            share[k] = spread**2 / (spread**2).sum()
        kinks = [i for i, slope in enumerate(column) if slope.reason.startswith("a kink")]
        if kinks:
            reasons[k] = f"a kink in {numbers[kinks[0]].path}: the samples tell better"
    return {
        "linear_low": low, "linear_high": high, "linear_deviation": deviation, "linear_share": share,
        "linear_reason": np.array(reasons),
    }  # fmt: skip


def _sampled(rows: Floats, found: Floats, answers: Sequence[Answer]) -> dict[str, Any]:
    columns = [found[:, k] for k in range(found.shape[1])]
    bands = np.array([quantiles(column) for column in columns])
    fits = [shares(rows, column, answer.noise) for column, answer in zip(columns, answers, strict=True)]
    return {
        "sampled_low": bands[:, 0], "sampled_middle": bands[:, 1], "sampled_high": bands[:, 2],
        "sampled_known": np.array([float(np.mean(~np.isnan(column))) for column in columns]),
        "sampled_share": np.array([fit[0] for fit in fits]), "sampled_explained": np.array([fit[1] for fit in fits]),
    }  # fmt: skip
