"""From results to a report: sections by what is there, the answer in five lines, what was not asked."""

from __future__ import annotations

from dataclasses import replace

import pytest

from armwright.errors import InputError
from armwright.report import gather
from armwright.report.document import Section
from armwright.report.gather import chosen, document, question_keys
from armwright.results.variables import STUDIES
from cases import sample_results as sample
from cases.reported import of, small_asked, small_results


def test_every_study_has_its_question_and_no_two_have_one() -> None:
    owners = [study for question in gather.QUESTIONS for study in question.studies]
    assert sorted(owners) == sorted(STUDIES)
    assert len(set(question_keys())) == len(question_keys())


def test_the_report_of_a_cell() -> None:
    made = document(small_results().values(), absent=small_asked().absent)
    assert [section.anchor for section in made.sections] == [
        "reach", "hold", "speed", "moves", "failure", "parts", "truth", "lifting", "guarding", "track", "changes"
    ]  # fmt: skip
    assert len(made.answers) == 5 and made.answers[0] == made.sections[0].headline  # one of two points is served
    assert made.subject == "small & cell: arm spherical arm"
    joined = "\n".join(made.missing)
    for words in ("What must the supply deliver? the cell tells no [supply] in its file.",
                  "Where should the base stand? where it may",
                  "How sure are these answers? uncertainty: tolerances: got none"):  # fmt: skip
        assert words in joined
    # what all sections assume is told once
    shared = set(made.assumptions)
    assert shared and not any(shared & set(section.assumptions) for section in made.sections)
    names = [table.name for section in made.sections for table in section.tables]
    assert len(names) == len(set(names))


def test_what_is_bad_stands_first() -> None:
    sections = [Section(f"s{i}", f"Q{i}?", (f"h{i}",), headline=f"h{i}", good=i % 2 == 0) for i in range(8)]
    assert gather._answers(sections) == ("h1", "h3", "h5", "h7", "h0")
    bad = [replace(section, good=False) for section in sections]
    assert gather._answers(bad) == ("h0", "h1", "h2", "h3", "Also not as it should be: Q4?; Q5?; Q6?; Q7?")
    assert gather._answers(sections[:1]) == ()


def test_questions_alone() -> None:
    results = [sample.check_targets(), sample.payload_map(0.5)]
    made = document(results, questions=["hold"], title="Holds?")
    assert [section.anchor for section in made.sections] == ["hold"] and made.title == "Holds?" and made.missing == ()
    with pytest.raises(InputError, match=r"questions: got 'hols'.*did you mean hold"):
        document(results, questions=["hols"])
    with pytest.raises(InputError, match="questions: got none"):
        chosen([])
    with pytest.raises(InputError, match="got no results"):
        document([])
    with pytest.raises(InputError, match="results that answer track"):
        document(results, questions="track")


def test_the_fixture_holds_what_the_tests_need() -> None:
    assert of(small_results()).get("stop_table") is not None
