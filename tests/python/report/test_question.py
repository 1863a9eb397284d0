"""A question's section: what its results assume, miss and mind is gathered once; what was not asked is among it."""

from __future__ import annotations

from armwright.report.found import found
from armwright.report.question import Question, Told
from cases import sample_results as sample


def test_what_stands_beside_the_answer() -> None:
    one, other = sample.check_targets(), sample.part_loads()
    one.attrs["assumptions"] = "s\nt"
    other.attrs |= {"missing": "a", "warnings": "w", "caution": "c", "assumptions": "s"}
    told = Told("yes", True, ["more"], notes=["n"], settings=["grid"], cautions=["own"], missing=["m"])
    question = Question("key", "Is it?", ("check_targets", "part_loads"), lambda _: told)
    made = found([one, other], absent={"key": ["b"], "another": ["x"]})
    section = question.section(made)
    assert question.asked(made) and not Question("k", "?", ("stop",), lambda _: told).asked(made)
    assert (section.anchor, section.question, section.headline, section.good) == ("key", "Is it?", "yes", True)
    assert section.answers == ("yes", "more") and section.notes == ("n",)
    assert section.missing == ("a", "m", "b") and section.cautions == ("own", "c", "w")
    assert section.assumptions == ("grid", "s", "t")
