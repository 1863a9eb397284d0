"""Answers: what they are made of, and what they tell where there is none."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.designs.answer import take_answers
from armwright.designs.ask import usual
from cases.described import positioner
from cases.designs import level_cell


def test_a_function_is_an_answer() -> None:
    mass = aw.Answer("arm's mass", "kg", lambda cell: cell.description.arm.mass, "less")
    assert mass.ask(level_cell()) == aw.Asked(11.0) and mass.bound_to(level_cell()) is mass
    assert mass.ask_again(level_cell(), "anything").value == 11.0
    assert repr(mass) == 'Answer "arm\'s mass" (kg), the less the better'


def test_what_is_refused_has_no_answer_but_a_reason() -> None:
    def refused(cell: aw.Cell) -> float:
        raise aw.InputError.of("ratio", 0, "more than 0")

    for of, reason in ((refused, "ratio: got 0, expected more than 0"), (lambda cell: math.nan, "no number"),
                       (lambda cell: aw.Asked(math.nan), "no number"),
                       (lambda cell: aw.Asked(math.nan, "too far"), "too far")):  # fmt: skip
        told = aw.Answer("x", "1", of).ask(level_cell())
        assert math.isnan(told.value) and told.reason == reason and not told.known
    assert aw.Answer("x", "1", lambda cell: math.inf).ask(level_cell()).known


def test_a_slip_in_a_function_is_not_hidden() -> None:
    with pytest.raises(ZeroDivisionError):
        aw.Answer("x", "1", lambda cell: 1 / 0).ask(level_cell())
    for wrong in ("3", [1.0, 2.0], None, 1j):
        with pytest.raises(aw.InputError, match="one number"):
            aw.Answer("x", "1", lambda cell, wrong=wrong: wrong).ask(level_cell())  # type: ignore[misc]


@pytest.mark.parametrize(
    ("told", "word"),
    [(("", "kg", len), "name"), (("x", "", len), "unit"), (("x", "kg", 3), "of"), (("x", "kg", len, "most"), "better")],
)
def test_what_makes_no_answer_is_refused(told: tuple[Any, ...], word: str) -> None:
    with pytest.raises(aw.InputError, match=word):
        aw.Answer(*told)


def test_what_a_study_is_asked() -> None:
    cell = level_cell()
    assert [answer.name for answer in take_answers(None, cell, usual)] == [
        "least payload margin", "least limit margin", "least clearance", "points served",
    ]  # fmt: skip
    one = aw.ask.payload("far")
    assert take_answers(one, cell, usual)[0].name == take_answers([one], cell, usual)[0].name == "payload at far"
    for wrong, words in (([], "at least one"), ("payload", "aw.ask"), (3, "aw.ask"), ([one, one], "a different name"),
                         ([3], r"answers\[0\]"), ([aw.ask.payload("fat")], "far")):  # fmt: skip
        with pytest.raises(aw.InputError, match=words):
            take_answers(wrong, cell, usual)
    with pytest.raises(aw.InputError, match="work points"):
        take_answers(None, aw.Cell(positioner()), usual)


def test_arrays_of_one_number_are_numbers() -> None:
    assert aw.Answer("x", "1", lambda cell: np.float32(2)).ask(level_cell()).value == 2.0  # type: ignore[arg-type, return-value]
