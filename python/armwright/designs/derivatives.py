"""Derivatives of answers with respect to design numbers, the critical posture held, by differences with an error."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

from armwright.describe import CellDescription, DesignNumber
from armwright.describe.design_numbers import with_numbers
from armwright.designs.answer import Answer, Asked, none_because
from armwright.errors import InputError

if TYPE_CHECKING:
    from armwright.cell import Cell

Floats = NDArray[np.float64]
_LEAST_SIZE = {"m": 0.1, "rad": 0.1}  # of a number, that its steps are shares of: positions may be near 0
_PLACES = (1.0, 0.5, -0.5, -1.0)  # of the steps


class Derivative(NamedTuple):
    """Of one answer by one number: from the middle, and to either side. NaN without one; ``reason`` says why, or what
    is to be minded."""

    value: float
    error: float
    upward: float
    downward: float
    reason: str = ""


def size_of(number: DesignNumber) -> float:
    """What a number's steps are shares of: its value; of lengths and angles at least 0.1 m, 0.1 rad; of others 1 where
    it is 0."""
    return max(abs(number.value), _LEAST_SIZE.get(number.unit, 0.0)) or 1.0


def derivatives_of(
    described: CellDescription, number: DesignNumber, answers: Sequence[Answer], asked: Sequence[Asked]
) -> list[Derivative]:
    """By one number, of every answer. ``asked``: the answers of the design as described, with what is held."""
    cells: dict[float, Cell | str] = {}
    out = []
    for answer, told in zip(answers, asked, strict=True):
        if answer.counts:
            out.append(_none("a count goes in whole steps"))
        elif not math.isfinite(told.value):
            out.append(_none(told.reason or "nothing limits it"))
        else:
            step = answer.step * size_of(number)
            around = [_asked_at(described, number, place * step, answer, told, cells) for place in _PLACES]
            out.append(of_values(told.value, around, step, answer.noise))
    return out


def _asked_at(
    described: CellDescription, number: DesignNumber, shift: float, answer: Answer, told: Asked,
    cells: dict[float, Cell | str],
) -> Asked:  # fmt: skip
    from armwright.cell import Cell

    if shift not in cells:
        try:
            cells[shift] = Cell.from_description(with_numbers(described, {number.path: number.value + shift}))
        except InputError as error:
            cells[shift] = str(error.problems[0])
    made = cells[shift]
    return none_because(made) if isinstance(made, str) else answer.ask_again(made, told.held)


def of_values(middle: float, around: Sequence[Asked], step: float, noise: float = 1e-12) -> Derivative:
    """The derivative from the values at a step and half a step to both sides (upper ones first, wider ones outside).

    From the middle by Richardson's extrapolation of two central differences, its error their difference and rounding;
    where the slopes of both sides differ and go on to do so with half the step, there is a kink, and the error is half
    of what they differ. Where one side has no answer, from the other alone. ``noise``: what is lost of an answer to
    rounding and iteration, as a share of it."""
    values = np.array([each.value for each in around])
    if np.isinf(values).any():
        return _none("nothing limits it a step away")
    rounding = 4 * noise * max(abs(middle), float(np.nanmax(np.abs(values), initial=0.0))) / step
    sides = []
    for wide, near, sign in ((0, 1, 1.0), (3, 2, -1.0)):
        slopes = [sign * (values[wide] - middle) / step, sign * (values[near] - middle) / (step / 2)]
        sides.append((2 * slopes[1] - slopes[0], abs(slopes[1] - slopes[0]), slopes[1]))
    known = [not math.isnan(side[0]) for side in sides]
    lost = next((each.reason for each in around if each.reason), "")
    if not any(known):
        return _none(lost)
    if not all(known):
        value, error, _ = sides[known.index(True)]
        return Derivative(value, error + rounding, sides[0][0], sides[1][0], f"from one side: {lost}")
    wide = (values[0] - values[3]) / (2 * step)
    near = (values[1] - values[2]) / step
    value, error = near + (near - wide) / 3, abs(near - wide) + rounding
    gap, gap_wide = (abs(a + b - 2 * middle) / h for a, b, h in (
        (values[1], values[2], step / 2), (values[0], values[3], step)))  # fmt: skip
    if gap > 0.75 * gap_wide and gap > 10 * rounding and gap > 1e-6 * abs(value):
        told = f"a kink: {sides[0][2]:.3g} for more, {sides[1][2]:.3g} for less"
        return Derivative(value, error + gap / 2, sides[0][2], sides[1][2], told)
    return Derivative(value, error, value, value)


def _none(reason: str) -> Derivative:
    return Derivative(math.nan, math.nan, math.nan, math.nan, reason)
