"""What is wrong with an option, told by the option's name as it is typed."""

from __future__ import annotations

import argparse
from dataclasses import replace

from armwright.errors import Problem

_OTHER_NAMES = {"wanted_life": "life"}  # of arguments in Python: the option's


def as_typed(problem: Problem, parser: argparse.ArgumentParser | None) -> Problem:
    """The problem with "--margin" for ``margin``; of several names those that are options of the command. A problem of
    a file stays as it is."""
    actions = [] if parser is None or problem.file else parser._actions
    options = {action.dest: action.option_strings[-1] for action in actions if action.option_strings}
    words = [_OTHER_NAMES.get(word, word) for word in problem.key.split(", ")]
    told = [options[word] for word in words if word in options]
    return replace(problem, key=", ".join(told)) if told else problem
