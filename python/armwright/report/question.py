"""A question of a report: which studies answer it, and how."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from armwright.report.document import Picture, Section, Table
from armwright.report.found import Found, lines_of

_CAUTION = ("caution", "warnings", "to_mind", "flags")
_MISSING = ("missing", "not_counted")


@dataclass(frozen=True)
class Told:
    """What a question's answer holds. ``headline``: in a sentence; ``short``: in a line of the report's answer, where
    that is not the headline; ``good``: whether it is as it should be, None where
    nothing is to be judged; ``answers``: what follows on it."""

    headline: str
    good: bool | None
    answers: Iterable[str] = ()
    pictures: Iterable[Picture] = ()
    tables: Iterable[Table] = ()
    notes: Iterable[str] = ()
    settings: Iterable[str] = ()
    cautions: Iterable[str] = ()
    missing: Iterable[str] = ()
    short: str = ""


@dataclass(frozen=True)
class Question:
    """``key``: its short name; ``studies``: those whose results it is told from, any of them; ``tell``: the answer."""

    key: str
    words: str
    studies: tuple[str, ...]
    tell: Callable[[Found], Told]

    def asked(self, found: Found) -> bool:
        """Whether there is a result that answers it, in part at least."""
        return bool(found.those(*self.studies))

    def section(self, found: Found) -> Section:
        """The section of a report."""
        told, mine = self.tell(found), found.those(*self.studies)
        missing = dict.fromkeys((*lines_of(mine, *_MISSING), *told.missing, *found.absent.get(self.key, ())))
        cautions = dict.fromkeys((*told.cautions, *lines_of(mine, *_CAUTION)))
        return Section(
            self.key,
            self.words,
            (told.headline, *told.answers),
            tuple(told.pictures),
            tuple(told.tables),
            tuple(told.notes),
            (*told.settings, *lines_of(mine, "assumed", "assumptions")),
            tuple(missing),
            tuple(cautions),
            told.short or told.headline,
            told.good,
        )
