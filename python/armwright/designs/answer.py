"""An answer: a named number with its unit that can be asked of any cell."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

import numpy as np

from armwright import arguments
from armwright.errors import InputError

if TYPE_CHECKING:
    from armwright.cell import Cell


_threads: ContextVar[int | None] = ContextVar("threads", default=None)


@contextmanager
def on_threads(count: int) -> Iterator[None]:
    """Studies that answers run take so many threads of the core (0: all) inside."""
    known = _threads.set(count or None)
    try:
        yield
    finally:
        _threads.reset(known)


def threads() -> int | None:
    """How many threads a study that an answer runs may take; None: all."""
    return _threads.get()


class Asked(NamedTuple):
    """What one cell answers. ``value`` in the answer's unit, NaN where there is none, and then ``reason`` says why;
    ``where``: the posture and the part that it comes from, in words; ``held``: what the answer needs to be asked again
    of a changed cell in the same posture (None: it cannot be).

    >>> asked = aw.ask.payload_margin("over the tub").of(cell)
    >>> print(f"{asked.value:.2f} kg, {asked.where}")
    2.25 kg, over the tub: axis 3, reducer 121
    """

    value: float
    reason: str = ""
    where: str = ""
    held: Any = None

    @property
    def known(self) -> bool:
        """Whether there is a value (an infinite one is)."""
        return not math.isnan(self.value)


@dataclass(frozen=True)
class Answer:
    """A number that can be asked of any cell: ``name`` and ``unit`` (SI, "1" for none) to tell it with, and ``of``, a
    function of a Cell that gives the number, or an Asked. ``better``: whether "more" or "less" of it is wanted.

    ``again``: a function of a Cell and what ``of`` told as ``held``: the number in the posture that was critical then
    (by default ``of`` is asked anew). ``bound``: a function of a Cell to the Answer with what is left open settled by
    that cell. ``counts``: it goes in whole steps, so that it has no derivative. ``step``: by what share of its size a
    number is changed for a derivative; ``noise``: what is lost of the answer to rounding and iteration, as a share of
    it. What is to cross to other processes must pickle: functions of a module do, lambdas do not.

    >>> import armwright as aw
    >>> aw.Answer("arm's mass", "kg", lambda cell: cell.description.arm.mass, better="less")
    Answer "arm's mass" (kg), the less the better
    """

    name: str
    unit: str
    of: Callable[[Cell], Asked | float]
    better: Literal["more", "less"] = "more"
    again: Callable[[Cell, Any], Asked | float] | None = None
    bound: Callable[[Cell], Answer] | None = None
    counts: bool = False
    step: float = 1e-3
    noise: float = 1e-12

    def __post_init__(self) -> None:
        for key in ("name", "unit"):
            if not isinstance(getattr(self, key), str) or not getattr(self, key):
                raise InputError.of(f"Answer.{key}", repr(getattr(self, key)), "a text")
        if self.better not in ("more", "less"):
            raise InputError.of("Answer.better", repr(self.better), '"more" or "less"')
        if not callable(self.of):
            raise InputError.of("Answer.of", repr(self.of), "a function of a Cell")

    def bound_to(self, cell: Cell) -> Answer:
        """The answer with what is left open settled by that cell, so that other cells are asked the same."""
        return self if self.bound is None else self.bound(cell)

    def ask(self, cell: Cell) -> Asked:
        """The cell's answer; NaN and the reason where it has none."""
        return self._told(lambda: self.of(cell))

    def ask_again(self, cell: Cell, held: Any) -> Asked:
        """A changed cell's answer in the posture that was critical in another; ``held`` as that one's answer told."""
        if self.again is None or held is None:
            return self.ask(cell)
        again = self.again
        return self._told(lambda: again(cell, held))

    def _told(self, ask: Callable[[], Asked | float]) -> Asked:
        try:
            told = ask()
        except InputError as error:
            return none_because(str(error.problems[0]) if error.problems else "refused")
        if isinstance(told, Asked):
            return told if told.known or told.reason else told._replace(reason="no number")
        value = np.asarray(told)
        if value.shape != () or value.dtype.kind not in "fiub":
            raise InputError.of(f"answer {self.name!r}", repr(told)[:80], "one number")
        return Asked(float(value), "no number" if np.isnan(value) else "")

    def __repr__(self) -> str:
        return f'Answer "{self.name}" ({self.unit}), the {self.better} the better'


def none_because(reason: str) -> Asked:
    """No answer."""
    return Asked(math.nan, " ".join(reason.split()))


def take_answers(answers: Any, cell: Cell, usual: Callable[[Cell], list[Answer]]) -> tuple[Answer, ...]:
    """The answers that a study is asked for, bound to the cell; the usual ones if none are told."""
    told = usual(cell) if answers is None else [answers] if isinstance(answers, Answer) else answers
    if isinstance(told, str) or not hasattr(told, "__iter__"):
        raise InputError.of("answers", repr(answers), 'answers, as [aw.ask.payload("kiln"), aw.ask.clearance()]')
    items = list(told)
    for i, item in enumerate(items):
        if not isinstance(item, Answer):
            raise InputError.of(f"answers[{i}]", repr(item), 'an Answer, as aw.ask.payload("kiln")')
    if not items:
        raise InputError.of("answers", "none", "at least one")
    arguments.named_once("answers", [item.name for item in items])
    return tuple(item.bound_to(cell) for item in items)
