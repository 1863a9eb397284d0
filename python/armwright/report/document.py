"""What a report holds before it becomes a page, a print or tables: words, pictures, and numbers in SI."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True)
class Quantity:
    """A number (SI) with a unit of its own, in a column whose rows differ in unit; ``note`` stands small below it,
    ``words`` in its place."""

    value: float
    unit: str = ""
    small: bool = False
    note: str = ""
    percent: bool = False
    words: str = ""


@dataclass(frozen=True)
class Verdict:
    """Words that say whether something is as it should be: never by colour alone."""

    words: str
    good: bool


_LONG, _DOZEN = 15, 12  # rows of a table that is shown whole, and of a longer one

Entry = str | float | None | Quantity | Verdict
"""Of a table: words, a number in SI, or nothing told. NaN is nothing told, infinite is no limit."""


@dataclass(frozen=True)
class Column:
    """A column of a table. ``unit``: SI, as results have it ("m", "kg", "N*m", "1"); None for words. ``small``: lengths
    mostly well below a metre, in millimetres or inches. ``percent``: a share told in hundredths. ``down``: rounded
    down, where a number must not be told too high. ``hours``: of seconds, ``turns``: of rad/s, in turns a minute."""

    words: str
    unit: str | None = None
    digits: int = 3
    small: bool = False
    percent: bool = False
    down: bool = False
    hours: bool = False
    turns: bool = False


@dataclass(frozen=True)
class Picture:
    """A picture as PNG, and what it shows in words, for those who cannot see it."""

    name: str
    png: bytes = field(repr=False)
    words: str


@dataclass(frozen=True)
class Table:
    """Rows under columns; ``name`` is that of its file and sheet, unlike any other in the report. ``pictures`` stand
    before it. ``shown``: how many rows, the first, a page shows at once, 0 where they are but the numbers behind a
    picture; None for all of a short table and a dozen of a long one. The others are folded away on a page, and not
    printed; files have all."""

    name: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Entry, ...], ...]
    note: str = ""
    pictures: tuple[Picture, ...] = ()
    shown: int | None = None

    @property
    def first(self) -> int:
        """How many rows a page shows at once; none is folded away alone."""
        wanted = (len(self.rows) if len(self.rows) <= _LONG else _DOZEN) if self.shown is None else self.shown
        return wanted if wanted < len(self.rows) - 1 or wanted == 0 else len(self.rows)


@dataclass(frozen=True)
class Section:
    """A question and its answer. ``headline``: the answer in a line, as it stands at the top; ``good``: whether that is
    as it should be, None where nothing is to be judged. ``assumptions``: what was assumed because it was not told;
    ``missing``: what was not looked at, and for want of what; ``cautions``: those of this question."""

    anchor: str
    question: str
    answers: tuple[str, ...]
    pictures: tuple[Picture, ...] = ()
    tables: tuple[Table, ...] = ()
    notes: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    headline: str = ""
    good: bool | None = None


@dataclass(frozen=True)
class Document:
    """A whole report. ``answers``: the answer in five lines at most; ``missing``: questions that were not asked, and
    why; ``assumptions``: those of all sections. Words are in SI units as results
    tell them; ``names``: what stays as it is when units are told anew."""

    title: str
    subject: str
    answers: tuple[str, ...]
    sections: tuple[Section, ...]
    missing: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    names: frozenset[str] = frozenset()
    version: str = ""
    digest: str = ""
    assumptions: tuple[str, ...] = ()
