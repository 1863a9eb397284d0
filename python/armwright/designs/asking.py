"""Designs, derivatives and samples as the items of a study in pieces: here, or on the workers of any executor, kept in
a store or not. Each has what is prepared once (a function of a module, which travels), and what computes a piece."""

from __future__ import annotations

import pickle
from collections.abc import Callable, Mapping, Sequence
from typing import Any

import numpy as np

from armwright.describe import CellDescription, DesignNumber
from armwright.describe.design_numbers import with_numbers
from armwright.designs.answer import Answer, Asked, none_because, on_threads
from armwright.designs.derivatives import Derivative, derivatives_of
from armwright.errors import InputError
from armwright.studies import run
from armwright.studies.cutting import Compute, go_on
from armwright.studies.pieces import How, Pieces
from armwright.studies.run import Arrays

Values = Mapping[str, Any]


def check_travels(how: How, answers: Sequence[Answer]) -> None:
    """Refuses answers that cannot go to an executor."""
    for answer in answers if how.executor is not None else ():
        check_pickles("answers", f'"{answer.name}", with an executor', answer)


def check_pickles(key: str, told: str, value: Any) -> None:
    """Refuses what cannot go to another process."""
    try:
        pickle.dumps(value)
    except (pickle.PicklingError, AttributeError, TypeError) as error:
        raise InputError.of(key, told, f"functions of a module, no lambdas ({error})") from None


def ask_designs(
    work: Pieces, phase: str, described: CellDescription, designs: Sequence[Values], answers: Sequence[Answer],
    report: run.Report | None,
) -> list[list[Asked]]:  # fmt: skip
    """All answers of each design; a design that is refused has none."""
    given = (described, tuple(designs), tuple(answers))
    told = work.run(phase, prepare_designs, given, np.arange(len(designs)), report)
    keys = ("value", "reason", "where")
    return _rows(told, len(designs), lambda i, k: Asked(*(told[key][i, k].item() for key in keys)))


def prepare_designs(described: CellDescription, designs: tuple[Values, ...], answers: tuple[Answer, ...]) -> Compute:
    def asked(item: int) -> list[Asked]:
        return ask_design(described, designs[item], answers)

    def compute(rows: Any, threads: int, report: run.Report | None) -> Arrays:
        found = _each([int(row) for row in rows], asked, threads, report)
        return {
            "value": _column(found, "value"), "reason": _column(found, "reason", np.str_),
            "where": _column(found, "where", np.str_),
        }  # fmt: skip

    return compute


def ask_design(described: CellDescription, values: Values, answers: Sequence[Answer]) -> list[Asked]:
    """All answers of one design. A design that is refused has none."""
    from armwright.cell import Cell

    try:
        cell = Cell.from_description(with_numbers(described, values))
    except InputError as error:
        return [none_because(str(error.problems[0])) for _ in answers]
    return [answer.ask(cell)._replace(held=None) for answer in answers]


def ask_derivatives(
    work: Pieces, described: CellDescription, numbers: Sequence[DesignNumber], answers: Sequence[Answer],
    asked: Sequence[Asked], report: run.Report | None,
) -> list[list[Derivative]]:  # fmt: skip
    """Of every number (rows) and answer; ``asked``: the answers of the design as described, with what is held."""
    given = (described, tuple(numbers), tuple(answers), tuple(asked))
    told = work.run("derivatives", prepare_derivatives, given, np.arange(len(numbers)), report)
    return _rows(told, len(numbers), lambda i, k: Derivative(*(told[key][i, k].item() for key in Derivative._fields)))


def prepare_derivatives(
    described: CellDescription, numbers: tuple[DesignNumber, ...], answers: tuple[Answer, ...], asked: tuple[Asked, ...]
) -> Compute:
    def found_of(item: int) -> list[Derivative]:
        return derivatives_of(described, numbers[item], answers, asked)

    def compute(rows: Any, threads: int, report: run.Report | None) -> Arrays:
        found = _each([int(row) for row in rows], found_of, threads, report)
        kinds = {key: np.str_ if key == "reason" else np.float64 for key in Derivative._fields}
        return {key: _column(found, key, kind) for key, kind in kinds.items()}

    return compute


def ask_samples(
    work: Pieces, described: CellDescription, paths: Sequence[str], rows: Any, answers: Sequence[Answer],
    held: Sequence[Any], report: run.Report | None,
) -> Any:  # fmt: skip
    """The answers (samples, answers) of designs whose numbers are rows of values; NaN where there is none. ``held``: of
    each answer the posture to be kept, or None."""
    given = (described, tuple(paths), tuple(answers), tuple(held))
    return work.run("samples", prepare_samples, given, rows, report)["value"]


def prepare_samples(
    described: CellDescription, paths: tuple[str, ...], answers: tuple[Answer, ...], held: tuple[Any, ...]
) -> Compute:
    from armwright.cell import Cell

    def asked(row: Any) -> list[Asked]:
        try:
            cell = Cell.from_description(with_numbers(described, dict(zip(paths, map(float, row), strict=True))))
        except InputError as error:
            return [none_because(str(error.problems[0])) for _ in answers]
        return [answer.ask_again(cell, kept) for answer, kept in zip(answers, held, strict=True)]

    def compute(rows: Any, threads: int, report: run.Report | None) -> Arrays:
        return {"value": _column(_each(list(rows), asked, threads, report), "value")}

    return compute


def _each(
    items: list[Any], ask: Callable[[Any], list[Any]], threads: int, report: run.Report | None
) -> list[list[Any]]:
    found = []
    with on_threads(threads):
        for i, item in enumerate(items):
            found.append(ask(item))
            go_on(report, i + 1, len(items))
    return found


def _column(found: list[list[Any]], key: str, kind: Any = np.float64) -> Any:
    """One field of all that was found, (items, answers)."""
    return np.array([[getattr(told, key) for told in row] for row in found], kind)


def _rows(told: Arrays, count: int, make: Callable[[int, int], Any]) -> list[list[Any]]:
    answers = told["value"].shape[1] if count else 0
    return [[make(i, k) for k in range(answers)] for i in range(count)]
