"""Which change buys the most: derivatives at the critical posture, and steps to real alternatives."""

from __future__ import annotations

import hashlib
import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
import xarray as xr

from armwright import arguments
from armwright.describe import CellDescription, DesignNumber
from armwright.describe.design_numbers import design_number, design_numbers
from armwright.describe.wrong import shown
from armwright.designs.alternative import Alternative, take_alternatives
from armwright.designs.answer import Answer, Asked, take_answers
from armwright.designs.ask import usual
from armwright.designs.asking import ask_derivatives, ask_designs, check_travels
from armwright.designs.derivatives import Derivative
from armwright.errors import InputError
from armwright.results import make_dataset
from armwright.studies import run
from armwright.studies.pieces import How

if TYPE_CHECKING:
    from armwright.cell import Cell

_ENDS = (
    ".ratio", ".lead", ".radius", ".rated_torque", ".motor.continuous", ".motor.peak", ".torque_continuous",
    ".force_continuous",
)  # fmt: skip
_LINK = (".length", ".mass")
_WHOLE = ("track.stroke", "tool.mass", "mount.z")
_STEPS = {"m": 0.01, "rad": math.radians(1.0)}


def usual_numbers(cell: CellDescription) -> list[DesignNumber]:
    """What is changed unless told otherwise: ratios, torques of motors, stages and joints, lengths and masses of links,
    counterbalances, the tool's mass, the track's stroke, the height of the base."""
    found = []
    for number in design_numbers(cell):
        path = number.path
        driven = path.startswith(("arm.joints[", "track.drive", "track.force")) and path.endswith(_ENDS)
        link = path.startswith("arm.links[") and path.endswith(_LINK) and path.count("]") == 1
        spring = path.startswith("arm.counterbalances[") and ".point" not in path
        if driven or link or spring or path in (*_WHOLE, "arm.base_link.length"):
            found.append(number)
    return found


def take_numbers(cell: CellDescription, numbers: Any) -> list[DesignNumber]:
    """The numbers that a study is asked about; the usual ones if none are told."""
    if numbers is None:
        return usual_numbers(cell)
    if isinstance(numbers, str):
        numbers = [numbers]
    if not hasattr(numbers, "__iter__"):
        raise InputError.of("numbers", shown(numbers), "names of design numbers")
    paths = [number.path if isinstance(number, DesignNumber) else number for number in numbers]
    if len(set(map(str, paths))) != len(paths):
        raise InputError.of("numbers", "a name told twice", "each once")
    return [design_number(cell, path) for path in paths]


def step_of(number: DesignNumber) -> float:
    """The change that gains are told for: a tenth of the value; of positions 10 mm, of angles 1 deg."""
    plain = number.path.endswith((".length", "stroke", "radius", "lead"))
    if number.unit in _STEPS and not plain:
        return _STEPS[number.unit]
    return abs(number.value) / 10 or _STEPS.get(number.unit, 0.0)


def changes(
    cell: Cell, numbers: Any, alternatives: Any, answers: Any, parts: Any, prices: Any, rank_by: Any, currency: str,
    how: How,
) -> xr.Dataset:  # fmt: skip
    """See Cell.changes."""
    asked_of = take_answers(answers, cell, usual)
    names = [answer.name for answer in asked_of]
    by = names.index(arguments.choice("rank_by", names[0] if rank_by is None else rank_by, {n: n for n in names}))
    chosen = take_numbers(cell.description, numbers)
    others = take_alternatives(cell.description, alternatives, parts, prices)
    if not isinstance(currency, str) or not currency:
        raise InputError.of("currency", shown(currency), "a text")
    check_travels(how, asked_of)
    asked = [answer.ask(cell) for answer in asked_of]
    digest = digest_of(cell, [*(number.path for number in chosen), *names, *map(str, map(_digests, others))])
    with how.opened("changes", digest, {"answers": names}) as work:
        with run.reported(how.progress, "design numbers", 0, 2) as report:
            slopes = ask_derivatives(work, cell.description, chosen, asked_of, asked, report)
        with run.reported(how.progress, "alternatives", 1, 2) as report:
            designs = [each.values for each in others]
            after = ask_designs(work, "alternatives", cell.description, designs, asked_of, report)
    variables = answer_variables(asked) | _number_figures(chosen, asked_of, asked, slopes)
    variables |= _alternative_figures(others, asked_of, asked, after, by)
    coords = number_coords(chosen) | answer_coords(asked_of) | {
        "alternative": np.array([each.name for each in others], np.str_),
        "price": np.array([math.nan if each.price is None else each.price for each in others]),
    }  # fmt: skip
    labels = cell._labels
    return make_dataset(
        "changes", variables, coords, labels["labels"] | {"ranked_by": names[by], "currency": currency}, digest,
        labels["arm_name"],
    )  # fmt: skip


def _digests(alternative: Alternative) -> list[tuple[str, str]]:
    """What an alternative changes, parts by their digest."""
    return [(path, value.digest() if hasattr(value, "digest") else repr(value))
            for path, value in alternative.values.items()]  # fmt: skip


def _number_figures(
    numbers: Sequence[DesignNumber], answers: Sequence[Answer], asked: Sequence[Asked],
    slopes: list[list[Derivative]],
) -> dict[str, Any]:  # fmt: skip
    shape = (len(numbers), len(answers))
    gain, way = np.full(shape, np.nan), np.full(shape, "", dtype="<U4")
    for i, number in enumerate(numbers):
        for k, answer in enumerate(answers):
            slope, sign = slopes[i][k], 1.0 if answer.better == "more" else -1.0
            ways = {"more": sign * slope.upward, "less": -sign * slope.downward}
            known = {word: value * step_of(number) for word, value in ways.items() if not math.isnan(value)}
            if known:
                word = max(known, key=lambda key: known[key])
                error = 0.0 if slope.reason.startswith("a kink") else slope.error * step_of(number)
                told = known[word] > max(1e-9 * max(1.0, abs(asked[k].value)), error)
                gain[i, k], way[i, k] = (known[word], word) if told else (0.0, "")

    def column(key: str, kind: Any = np.float64) -> Any:
        return np.array([[getattr(slope, key) for slope in row] for row in slopes], kind).reshape(shape)

    return {
        "derivative": column("value"), "derivative_error": column("error"),
        "derivative_reason": column("reason", np.str_), "step": np.array([step_of(number) for number in numbers]),
        "gain": gain, "better_way": way,
    }  # fmt: skip


def _alternative_figures(
    others: Sequence[Alternative], answers: Sequence[Answer], asked: Sequence[Asked], after: list[list[Asked]], by: int
) -> dict[str, Any]:
    shape = (len(others), len(answers))
    value = np.array([[told.value for told in row] for row in after]).reshape(shape)
    signs = np.array([1.0 if answer.better == "more" else -1.0 for answer in answers])
    with np.errstate(invalid="ignore", divide="ignore"):
        gain = signs * (value - np.array([told.value for told in asked]))
        price = np.array([math.nan if each.price is None else each.price for each in others]).reshape(-1, 1)
        per_price = np.where(gain > 0, gain / price, np.nan)
    return {
        "alternative_value": value, "alternative_gain": gain,
        "alternative_reason": np.array([[told.reason for told in row] for row in after], np.str_).reshape(shape),
        "gain_per_price": per_price, "rank": ranks(gain[:, by], per_price[:, by]),
    }  # fmt: skip


def ranks(gain: Any, per_price: Any) -> Any:
    """Places from 1: what gains, by gain per price; what gains without a price told, by gain; the rest, by gain, those
    without an answer last. Of equals the first told comes first."""

    def key(i: int) -> tuple[int, float]:
        if gain[i] > 0 and not math.isnan(per_price[i]):
            return 0, -float(per_price[i])
        if gain[i] > 0:
            return 1, -float(gain[i])
        return (3, 0.0) if math.isnan(gain[i]) else (2, -float(gain[i]))

    places = np.zeros(len(gain), np.int64)
    for place, i in enumerate(sorted(range(len(gain)), key=key), 1):
        places[i] = place
    return places


def answer_variables(asked: Sequence[Asked]) -> dict[str, Any]:
    """The answers of the design as described."""
    return {
        "answer_value": np.array([told.value for told in asked]),
        "answer_reason": np.array([told.reason for told in asked]),
        "answer_where": np.array([told.where for told in asked]),
    }


def answer_coords(answers: Sequence[Answer]) -> dict[str, Any]:
    """Names, units and the better way of answers."""
    return {
        "answer": np.array([answer.name for answer in answers]),
        "answer_unit": np.array([answer.unit for answer in answers]),
        "answer_better": np.array([answer.better for answer in answers]),
    }


def number_coords(numbers: Sequence[DesignNumber]) -> dict[str, Any]:
    """Names, units and values of design numbers."""
    return {
        "number": np.array([number.path for number in numbers], np.str_),
        "number_unit": np.array([number.unit for number in numbers], np.str_),
        "number_value": np.array([number.value for number in numbers]),
    }


def digest_of(cell: Cell, also: Sequence[str]) -> str:
    """sha256 of the cell and of what was asked."""
    return hashlib.sha256("|".join([cell.digest(), *also]).encode()).hexdigest()
