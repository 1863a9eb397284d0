"""How sure answers are when numbers have tolerances: by derivatives, and by samples."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright import arguments
from armwright.describe import CellDescription, DesignNumber
from armwright.describe.design_numbers import with_numbers
from armwright.designs.answer import Answer, Asked, none_because, take_answers
from armwright.designs.ask import usual_held
from armwright.designs.changes import answer_coords, answer_variables, digest_of, number_coords
from armwright.designs.derivatives import Derivative, derivatives
from armwright.designs.each import for_each
from armwright.designs.plan import unit_samples
from armwright.designs.spread import BAND, DISTRIBUTIONS, Distribution, deviation_of, linear_band, quantiles, shares
from armwright.designs.tolerances import take_tolerances
from armwright.errors import InputError
from armwright.results import make_dataset
from armwright.studies import run

if TYPE_CHECKING:
    from armwright.cell import Cell

Floats = NDArray[np.float64]
_MOST_SAMPLES = 1 << 20


def uncertainty(
    cell: Cell, answers: Any, tolerances: Any, distribution: Any, samples: Any, seed: Any, postures: Any, executor: Any,
    progress: run.Progress,
) -> xr.Dataset:  # fmt: skip
    """See Cell.uncertainty."""
    asked_of = take_answers(answers, cell, usual_held)
    numbers = take_tolerances(cell.description, tolerances)
    means: Distribution = arguments.choice("distribution", distribution, DISTRIBUTIONS)
    held = bool(arguments.choice("postures", postures, {"held": True, "anew": False}))
    count = run.whole("samples", samples, 0, _MOST_SAMPLES)
    if count & (count - 1) or count == 1:
        near = 1 << max(round(math.log2(count)), 1)
        raise InputError.of("samples", count, "a power of two, which spreads them evenly, or 0 for none", str(near))
    asked = [answer.ask(cell) for answer in asked_of]
    slopes = derivatives(cell, numbers, asked_of, asked, executor=executor, progress=progress)
    variables = answer_variables(asked) | _linear(numbers, asked_of, asked, slopes, means)
    if count:
        rows = sample_values(numbers, means, count, seed)
        jobs = [(cell.description, dict(zip((n.path for n in numbers), map(float, row), strict=True)), asked_of,
                 tuple(told.held if held else None for told in asked)) for row in rows]  # fmt: skip
        found = for_each(_ask_sample, jobs, words="samples", executor=executor, progress=progress)
        variables |= _sampled(rows, np.array(found), asked_of)
    coords = number_coords(numbers) | answer_coords(asked_of)
    coords["number_tolerance"] = np.array([number.tolerance for number in numbers])
    labels = cell._labels
    told = [f"{number.path}±{number.tolerance!r}" for number in numbers]
    return make_dataset(
        "uncertainty", variables, coords,
        labels["labels"] | {"distribution": means.words, "band": list(BAND), "samples": count,
                            "seed": run.whole("seed", seed, 0, 2**63 - 1), "postures": postures},
        digest_of(cell, [*told, *(answer.name for answer in asked_of), means.words, str(count), str(seed), postures]),
        labels["arm_name"],
    )  # fmt: skip


def sample_values(numbers: Sequence[DesignNumber], means: Distribution, count: int, seed: Any) -> Floats:
    """(count, numbers): a scrambled Sobol sequence, spread as the tolerances say."""
    middle = np.array([number.value for number in numbers])
    tolerance = np.array([number.tolerance for number in numbers])
    return np.asarray(middle + tolerance * means.of_share(unit_samples("sobol", len(numbers), count, seed)))


def _ask_sample(job: tuple[CellDescription, Mapping[str, float], tuple[Answer, ...], tuple[Any, ...]]) -> list[float]:
    from armwright.cell import Cell

    described, values, answers, helds = job
    try:
        cell = Cell.from_description(with_numbers(described, values))
    except InputError as error:
        return [none_because(str(error.problems[0])).value for _ in answers]
    return [answer.ask_again(cell, held).value for answer, held in zip(answers, helds, strict=True)]


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
