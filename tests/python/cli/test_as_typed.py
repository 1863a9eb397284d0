from __future__ import annotations

import argparse

from armwright.cli.as_typed import as_typed
from armwright.errors import Problem


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser()
    parser.add_argument("file")
    for option in ("--margin", "--tool-acceleration", "--life"):
        parser.add_argument(option)
    parser.add_argument("-o", "--output")
    return parser


def test_options_are_told_by_the_names_that_are_typed() -> None:
    keys = {
        "margin": "--margin", "output": "--output", "wanted_life": "--life", "file": "file", "spacing": "spacing",
        "tool_acceleration, turn_acceleration, margin": "--tool-acceleration, --margin",
    }  # fmt: skip
    for key, told in keys.items():
        assert as_typed(Problem(key, "5", "a length"), _parser()) == Problem(told, "5", "a length")


def test_keys_of_files_stay() -> None:
    problem = Problem("margin", "5", "a length", file="cell.toml", line=3)
    assert as_typed(problem, _parser()) is problem
    assert as_typed(Problem("margin", "5", "a length"), None).key == "margin"
