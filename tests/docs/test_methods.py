"""The page of methods leaves nobody without an answer: every method and every command has its section, with formulas
and where they are from."""

from __future__ import annotations

import inspect
import re
from pathlib import Path

import pytest

import armwright as aw
from armwright.cli import _parser

PAGE = (Path(__file__).parents[2] / "docs" / "methods.md").read_text(encoding="utf-8")
WITHOUT_NUMBERS = {"demo", "completion"}  # commands that compute nothing of their own
SECTIONS = {head: text for head, text in re.findall(r"^## (.+?)\n(.*?)(?=^## |\Z)", PAGE, re.DOTALL | re.MULTILINE)}
# A standard, a year of publication, or that there is none.
SOURCE = re.compile(r"\b(ISO|EN|NEC)[ /]\S|\b(18|19|20)\d\d\b|common practice|no source|from memory")
OUR_OWN = {"Descriptions"}  # rules of this program: nobody else's formulas but Steiner's


def table() -> list[tuple[str, str, str]]:
    rows = re.findall(r"^\| (.*?) \| (.*?)\|? (\[.*|they .*)\|$", SECTIONS["Which method answers what"], re.MULTILINE)
    assert len(rows) > 15
    return rows


def test_every_method_and_command_is_in_the_table() -> None:
    asked = {name for row in table() for name in re.findall(r"`(\w+)`", row[0])}
    typed = {name for row in table() for name in re.findall(r"`(\w+)`", row[1])}
    methods = {name for owner in (aw.Arm, aw.Cell) for name, thing in inspect.getmembers(owner)
               if not name.startswith("_") and callable(thing)} - {"arm"}  # fmt: skip
    assert methods - asked == set()
    assert asked - {name for owner in (aw.Arm, aw.Cell) for name in dir(owner)} == set()
    commands = set(next(action for action in _parser()._actions if action.dest == "command").choices)
    assert commands - WITHOUT_NUMBERS == typed


def test_every_section_is_in_the_table() -> None:
    led = {place for row in table() for place in re.findall(r"\(#(.*?)\)", row[2])}
    told = {head.lower().replace(",", "").replace(" ", "-") for head in SECTIONS}
    assert told - {"which-method-answers-what"} == led


@pytest.mark.parametrize("head", [head for head in SECTIONS if head != "Which method answers what"])
def test_a_section_says_where_its_formulas_are_from(head: str) -> None:
    assert len(SECTIONS[head].split()) > 100
    assert SOURCE.search(SECTIONS[head]) or head in OUR_OWN
