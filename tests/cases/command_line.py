"""Runs the command line, for its tests."""

from __future__ import annotations

import pytest

from armwright.cli import main


def refused(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    """What a command that is refused says, in one sentence for each problem and before any work."""
    assert main(arguments) == 2
    told = capsys.readouterr()
    assert told.out == "" and "Traceback" not in told.err
    return told.err


def ran(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    """What a command that writes results says, with the cautions once."""
    assert main((*arguments, "--quiet")) == 0
    said = capsys.readouterr().out
    assert said.count("Caution:") == 1
    return said
