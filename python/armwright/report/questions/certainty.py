"""How sure are these answers, when masses, efficiencies and dimensions are only estimates?"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import xarray as xr

from armwright import pictures
from armwright.report.document import Column, Entry, Table
from armwright.report.found import Found
from armwright.report.png import picture
from armwright.report.question import Question, Told
from armwright.report.questions.changes import of_unit
from armwright.results.design_summary import causes_of
from armwright.results.summary import summary_lines

STUDIES = ("uncertainty",)
_LEAST = 0.001  # share of the variance that is told


def _tell(found: Found) -> Told:
    sure = found.results["uncertainty"]
    lines = [f"{line[0].upper()}{line[1:]}." for line in map(str.strip, summary_lines(sure))]
    a = sure.attrs
    settings = [lines[0], f"{a['samples']} samples, seed {a['seed']}; postures {a['postures']}."]
    drawn = [
        picture(
            pictures.uncertainty(sure, units=found.units),
            "uncertainty",
            "The band of each answer, and the numbers that cause it",
        )
    ]
    told = [line for line in lines[1:] if not line.startswith("Caused by ")] or ["No answer was asked for."]
    return Told(
        told[0],
        None,
        told[1:],
        drawn if sure.sizes["answer"] else (),
        _tables(sure),
        settings=settings,
        short=_short(sure) if sure.sizes["answer"] else "",
    )


def _short(sure: xr.Dataset) -> str:
    """The first answer, with its band as sampled, or by derivatives."""
    one = sure.isel(answer=0)
    unit = str(one["answer_unit"].item())
    ends = [
        [float(one[f"{how}_{end}"]) for end in ("low", "high")]
        for how in ("sampled", "linear")
        if f"{how}_low" in one and np.isfinite(float(one[f"{how}_low"]))
    ]
    name, value = str(one["answer"].item()), float(one["answer_value"])
    if not ends or np.isnan(value):
        return ""
    (low, high), of = ends[0], "" if unit == "1" else f" {unit}"
    by = "".join(f"; most by {cause}" for cause, _ in causes_of(one, 1))
    return f"{name[0].upper()}{name[1:]}: {value:.3g}{of}, between {low:.3g} and {high:.3g}{of}{by}."


def _tables(sure: xr.Dataset) -> Iterator[Table]:
    if not sure.sizes["answer"]:
        return
    yield _bands(sure)
    yield _causes(sure)


def _bands(sure: xr.Dataset) -> Table:
    heads = {
        "linear_low": "from, by derivatives",
        "linear_high": "to",
        "linear_deviation": "standard deviation",
        "sampled_low": "from, sampled",
        "sampled_middle": "median",
        "sampled_high": "to",
    }
    names = [name for name in heads if name in sure]
    reasons = any(map(str, sure["linear_reason"].values))
    rows: list[tuple[Entry, ...]] = []
    for k, unit in enumerate(map(str, sure["answer_unit"].values)):
        rows.append(
            (
                str(sure["answer"].values[k]),
                of_unit(float(sure["answer_value"].values[k]), unit),
                *(of_unit(float(sure[name].values[k]), unit) for name in names),
                *([str(sure["linear_reason"].values[k])] if reasons else []),
            )
        )
    return Table(
        "bands",
        "Bands of the answers",
        (
            Column("answer"),
            Column("as described", digits=4),
            *(Column(heads[name], digits=4) for name in names),
            *([Column("why none by derivatives")] if reasons else []),
        ),
        tuple(rows),
    )


def _causes(sure: xr.Dataset) -> Table:
    linear = np.nan_to_num(sure["linear_share"].values)
    sampled = np.nan_to_num(sure["sampled_share"].values) if "sampled_share" in sure else np.zeros_like(linear)
    shares = np.where(linear.sum(axis=1, keepdims=True) > 0, linear, sampled)
    rows: list[tuple[Entry, ...]] = []
    for i in np.argsort(-shares.max(axis=0), kind="stable"):
        if shares[:, i].max() < _LEAST:
            break
        unit = str(sure["number_unit"].values[i])
        rows.append(
            (
                str(sure["number"].values[i]),
                of_unit(float(sure["number_value"].values[i]), unit),
                of_unit(float(sure["number_tolerance"].values[i]), unit),
                *map(float, shares[:, i]),
            )
        )
    answers = [Column(str(name), percent=True, digits=2) for name in sure["answer"].values]
    return Table(
        "tolerances",
        "What causes the bands: measure these first",
        (
            Column("number of the design"),
            Column("value"),
            Column("tolerance, either way"),
            *answers,
        ),
        tuple(rows),
        "Shares of each answer's variance; what causes less than 0.1 % of any is left out.",
    )


CERTAINTY = Question("certainty", "How sure are these answers?", STUDIES, _tell)
