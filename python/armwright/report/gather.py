"""From any set of results to a report: the sections that they answer, the answer in five lines, what was not asked."""

from __future__ import annotations

import difflib
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

import xarray as xr

from armwright.errors import InputError
from armwright.report.cautions import cautions
from armwright.report.document import Document, Section
from armwright.report.found import Found, found
from armwright.report.question import Question
from armwright.report.questions import QUESTIONS
from armwright.results import Scene
from armwright.results.units import UnitSystem

_WHOLE = "Does the arm do what is asked of it here?"
_LINES = 5  # of the answer at the top
_SHARED = 2  # sections that say the same thing; from there on it is said once, at the end


def document(
    results: Iterable[xr.Dataset],
    *,
    scene: Scene | None = None,
    units: UnitSystem = "si",
    absent: Mapping[str, Iterable[str]] | None = None,
    title: str = "",
    questions: Iterable[str] | None = None,
) -> Document:
    """The report of these results, of one study one at most.

    ``scene``: the cell as it is drawn, with its checked work points. ``units``: those that pictures are drawn in; words
    and tables stay in SI until they are written. ``absent``: by question, what was not looked at and for want of what.
    ``questions``: those alone (of ``question_keys()``); by default all. ``title``: by default the question.

    >>> report.document([cell.lifting()]).sections[0].question
    'How is it lifted and serviced?'
    """
    every = found(results, scene, units, absent)
    if not every.results:
        raise InputError.of("results", "no results", "at least one result of a study")
    wanted = chosen(questions)
    asked = [question for question in wanted if question.asked(every)]
    if not asked:
        raise InputError.of(
            "results",
            f"results of {', '.join(every.results)}",
            f"results that answer {' or '.join(question.key for question in wanted)}",
        )
    sections = [question.section(every) for question in asked]
    sections, assumptions = _told_once(sections)
    one = next(iter(every.results.values())).attrs
    return Document(
        title or (_WHOLE if len(sections) > 1 else sections[0].question), _subject(one), _answers(sections),
        tuple(sections), _not_asked(wanted, asked, every), cautions, every.names, str(one["armwright_version"]),
        str(one["inputs_digest"]), assumptions,
    )  # fmt: skip


def question_keys() -> tuple[str, ...]:
    """The short names of all questions, in their order.

    >>> report.question_keys()[:3]
    ('reach', 'hold', 'speed')
    """
    return tuple(question.key for question in QUESTIONS)


def chosen(keys: Iterable[str] | None) -> tuple[Question, ...]:
    """The questions of these names, in their order; None for all."""
    if keys is None:
        return QUESTIONS
    told = [keys] if isinstance(keys, str) else list(keys)
    for key in told:
        if key not in question_keys():
            near = difflib.get_close_matches(str(key), question_keys(), 1)
            raise InputError.of("questions", repr(key), f"some of {', '.join(question_keys())}", *near)
    if not told:
        raise InputError.of("questions", "none", f"some of {', '.join(question_keys())}")
    return tuple(question for question in QUESTIONS if question.key in told)


def _subject(attrs: Mapping[str, object]) -> str:
    cell, arm = attrs.get("cell_name"), attrs["arm_name"]
    return f"{cell}: arm {arm}" if cell else f"arm {arm}"


def _answers(sections: list[Section]) -> tuple[str, ...]:
    """The headlines in five lines: what is not as it should be first, then the others in their order."""
    bad = [section for section in sections if section.good is False]
    rest = [section for section in sections if section.good is not False]
    several = len(sections) > 1
    lines = [section.headline for section in (*bad, *rest)][:_LINES]
    if not several:
        return ()
    if len(bad) > _LINES:
        lines[-1] = "Also not as it should be: " + "; ".join(section.question for section in bad[_LINES - 1 :])
    return tuple(lines)


def _told_once(sections: list[Section]) -> tuple[list[Section], tuple[str, ...]]:
    """What several sections assume is told once for all of them, in the end."""
    counted = Counter(line for section in sections for line in section.assumptions)
    shared = tuple(line for line, count in counted.items() if count >= _SHARED)
    told = [
        replace(section, assumptions=tuple(line for line in section.assumptions if line not in shared))
        for section in sections
    ]
    return told, shared


def _not_asked(wanted: Iterable[Question], asked: list[Question], every: Found) -> tuple[str, ...]:
    return tuple(_left_out(wanted, asked, every))


def _left_out(wanted: Iterable[Question], asked: list[Question], every: Found) -> Iterator[str]:
    for question in wanted:
        if question in asked or question.key == "others":
            continue
        reasons = tuple(dict.fromkeys(every.absent.get(question.key, ())))
        yield question.words + (" " + "; ".join(reasons) + "." if reasons else " It was not asked.")
