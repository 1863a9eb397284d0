from __future__ import annotations

import copy
import pickle

import pytest

from armwright import InputError, Problem
from armwright.errors import of_file


@pytest.mark.parametrize(
    ("problem", "told"),
    [
        (Problem("mass", "3 m", "a mass"), "mass: got 3 m, expected a mass"),
        (Problem("mass", "3 m", "a mass", meant="3 kg"), "mass: got 3 m, expected a mass (did you mean 3 kg?)"),
        (Problem("mass", "3 m", "a mass", file="a.toml"), "a.toml: mass: got 3 m, expected a mass"),
        (Problem("mass", "3 m", "a mass", file="a.toml", line=7), "a.toml:7: mass: got 3 m, expected a mass"),
        (Problem("mass", "3 m", "a mass", line=7), "mass: got 3 m, expected a mass"),
    ],
)
def test_a_problem_in_words(problem: Problem, told: str) -> None:
    assert str(problem) == told


def test_an_error_lists_every_problem_on_a_line_of_its_own() -> None:
    problems = (Problem("a", "1", "2"), Problem("b", "3", "4", "5"))
    error = InputError(iter(problems))
    assert error.problems == problems
    assert str(error) == "a: got 1, expected 2\nb: got 3, expected 4 (did you mean 5?)"
    assert isinstance(error, ValueError)


def test_of_one_problem() -> None:
    error = InputError.of("spins", 0, "a whole number", "1", "a.toml")
    assert error.problems == (Problem("spins", "0", "a whole number", "1", "a.toml"),)


def test_it_comes_whole_out_of_another_process() -> None:
    error = InputError([Problem("a", "1", "2", file="a.toml", line=3), Problem("b", "3", "4")])
    for again in (pickle.loads(pickle.dumps(error)), copy.deepcopy(error)):
        assert type(again) is InputError and again.problems == error.problems and str(again) == str(error)


def test_what_is_found_later_is_told_as_of_the_file() -> None:
    with pytest.raises(InputError, match=r"^cell\.toml: pair: got 1"), of_file("cell.toml"):
        raise InputError.of("pair", 1, "2")
    with pytest.raises(InputError, match=r"^arm\.toml: pair: got 1"), of_file("cell.toml"):
        raise InputError.of("pair", 1, "2", file="arm.toml")
