"""Which change buys the most, and what does it cost?"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
import xarray as xr

from armwright import pictures
from armwright.report.document import Column, Entry, Picture, Quantity, Table
from armwright.report.found import Found
from armwright.report.png import picture
from armwright.report.question import Question, Told
from armwright.results.summary import summary_lines

STUDIES = ("changes",)
_SHOWN = 12  # rows on a page


def _tell(found: Found) -> Told:
    ranked = found.results["changes"]
    lines = [f"{line[0].upper()}{line[1:]}." for line in map(str.strip, summary_lines(ranked))]
    by, currency = str(ranked.attrs["ranked_by"]), str(ranked.attrs["currency"])
    first = ranked["rank"].values == 1
    headline = lines[0]
    if first.any():
        i, k = int(np.argmax(first)), [str(name) for name in ranked["answer"].values].index(by)
        gain, price = float(ranked["alternative_gain"].values[i, k]), float(ranked["price"].values[i])
        if gain > 0:
            cost = "" if math.isnan(price) else f" for {price:g} {currency}"
            unit = str(ranked["answer_unit"].values[k])
            headline = (
                f"Most for {'the money' if cost else 'its size'}: {ranked['alternative'].values[i]}{cost}, "
                f"{by} {gain:.3g}{'' if unit == '1' else ' ' + unit} better."
            )
    answers = [line for line in lines if " gain nothing in " in line and line != headline]  # tables tell the rest
    return Told(headline, None, answers, _pictures(found, ranked), _tables(ranked))


def _pictures(found: Found, ranked: xr.Dataset) -> Iterator[Picture]:
    yield picture(
        pictures.changes(ranked, units=found.units),
        "changes",
        "What a small step of each number of the design is worth",
    )
    if ranked.sizes["alternative"]:
        yield picture(
            pictures.alternatives(ranked, units=found.units),
            "alternatives",
            "What each alternative is worth, and its price",
        )


def _tables(ranked: xr.Dataset) -> Iterator[Table]:
    yield _answers_table(ranked)
    for k, answer in enumerate(ranked["answer"].values):
        if np.isfinite(ranked["gain"].values[:, k]).any():
            yield _gains(ranked, k, str(answer))
    if ranked.sizes["alternative"]:
        yield _alternatives(ranked)


def _answers_table(dataset: xr.Dataset) -> Table:
    """What the design as described answers, and where that comes from."""
    rows: list[tuple[Entry, ...]] = []
    for k in range(dataset.sizes["answer"]):
        unit = str(dataset["answer_unit"].values[k])
        rows.append(
            (
                str(dataset["answer"].values[k]),
                of_unit(float(dataset["answer_value"].values[k]), unit),
                str(dataset["answer_where"].values[k]) or str(dataset["answer_reason"].values[k]),
            )
        )
    return Table(
        f"{dataset.attrs['study']}_answers",
        "The design as described",
        (Column("answer"), Column("value", digits=4), Column("where")),
        tuple(rows),
    )


def of_unit(value: float, unit: str) -> Entry:
    """A number of a design or an answer."""
    return None if math.isnan(value) else Quantity(value, "" if unit == "1" else unit)


def _gains(ranked: xr.Dataset, k: int, answer: str) -> Table:
    unit = str(ranked["answer_unit"].values[k])
    gains = ranked["gain"].values[:, k]
    rows: list[tuple[Entry, ...]] = []
    for i in np.argsort(-np.nan_to_num(gains, nan=-np.inf), kind="stable"):
        way, own = str(ranked["better_way"].values[i, k]), str(ranked["number_unit"].values[i])
        if math.isnan(gains[i]) or not way:
            continue
        rows.append(
            (
                str(ranked["number"].values[i]),
                of_unit(float(ranked["number_value"].values[i]), own),
                way,
                of_unit(float(ranked["step"].values[i]), own),
                of_unit(float(gains[i]), unit),
            )
        )
    return Table(
        f"gains_{k + 1}",
        f"What a small step is worth to {answer}",
        (
            Column("number of the design"),
            Column("now"),
            Column("better"),
            Column("by"),
            Column("gains"),
        ),
        tuple(rows),
        "By the derivative, with the critical posture held. Numbers that make no difference are left out.",
        shown=_SHOWN,
    )


def _alternatives(ranked: xr.Dataset) -> Table:
    currency = str(ranked.attrs["currency"])
    heads = [Column("alternative"), Column("rank", "1"), Column(f"price ({currency})", "1", digits=6)]
    for name in ranked["answer"].values:
        heads += [Column(str(name), digits=4), Column("better by")]
    rows: list[tuple[Entry, ...]] = []
    for i in np.argsort(ranked["rank"].values, kind="stable"):
        row: list[Entry] = [
            str(ranked["alternative"].values[i]),
            float(ranked["rank"].values[i]),
            float(ranked["price"].values[i]),
        ]
        for k, unit in enumerate(map(str, ranked["answer_unit"].values)):
            value = float(ranked["alternative_value"].values[i, k])
            reason = str(ranked["alternative_reason"].values[i, k])
            row += [
                reason if math.isnan(value) else of_unit(value, unit),
                of_unit(float(ranked["alternative_gain"].values[i, k]), unit),
            ]
        rows.append(tuple(row))
    return Table(
        "alternatives",
        f"Alternatives, ranked by {ranked.attrs['ranked_by']} for the price",
        tuple(heads),
        tuple(rows),
        "All postures chosen anew. Negative: worse.",
        shown=max(3, min(_SHOWN, int((ranked["alternative_gain"].values > 0).any(axis=1).sum()))),
    )


CHANGES = Question("changes", "Which change buys the most, and what does it cost?", STUDIES, _tell)
