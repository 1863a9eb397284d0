"""The command line itself: its exit codes, and that what is wrong is said without a trace; its commands are in cli/."""

from __future__ import annotations

import argparse
import re
import shlex
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import armwright as aw
from armwright import cli
from armwright.cli import main
from armwright.cli.examples import EXAMPLES
from armwright.cli.next_steps import next_steps
from cases.command_line import refused


@pytest.mark.parametrize(
    ("raised", "code", "said"),
    [
        (aw.InputError([aw.Problem("a", "1", "2"), aw.Problem("b", "3", "4")]), 2,
         "a: got 1, expected 2\nb: got 3, expected 4"),
        (OSError(28, "No space left on device", "out/x.nc"), 2, "out/x.nc: No space left on device"),
        (OSError("odd"), 2, "output: odd"),
        (KeyboardInterrupt(), 130, "stopped; no file is left half written; the same command begins anew"),
    ],
)  # fmt: skip
def test_exit_codes(
    raised: BaseException, code: int, said: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(options: Any) -> None:
        raise raised

    monkeypatch.setattr(cli.cells, "check", broken)
    assert main(["check", "cell.toml"]) == code
    assert capsys.readouterr().err.strip() == said


def test_stopped_with_a_store(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(options: Any) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(cli.cells, "reach", stopped)
    assert main(["reach", "cell.toml", "--store", "kept"]) == 130
    told = capsys.readouterr().err
    assert told == "stopped; what is done is kept in kept, from where the same command goes on\n"
    assert main(["reach", "cell.toml"]) == 130
    assert "nothing is kept: with --store FOLDER what is done would be" in capsys.readouterr().err


def test_a_reader_that_has_gone_is_no_error() -> None:
    """As `armwright schema arm | head -1`: without a word and without a trace."""
    program = "import sys; from armwright.cli import main; sys.exit(main(['schema', 'arm']))"
    with subprocess.Popen(
        [sys.executable, "-c", f"import sys; sys.path[:0] = {sys.path!r}; {program}"],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    ) as process:  # fmt: skip
        assert process.stdout is not None
        process.stdout.close()
        process.stdout = None
        assert "Traceback" not in process.communicate(timeout=60)[1]


def parsers() -> dict[str, argparse.ArgumentParser]:
    """Of every command."""
    (commands,) = (each for each in cli._parser()._actions if isinstance(each, argparse._SubParsersAction))
    return dict(commands.choices)


@pytest.mark.parametrize("command", sorted(parsers()))
def test_every_command_has_examples_that_its_parser_takes(command: str) -> None:
    lines = re.findall(r"(?m)^ +(?:eval \"\$\()?(armwright .*)", str(parsers()[command].epilog))
    assert lines
    for line in lines:
        words = [word for word in shlex.split(re.split(r"\)\"|  | > ", line)[0])]
        assert words[:2] == ["armwright", command]
        assert cli._parser().parse_args(words[1:]).command == command


def test_every_command_says_what_comes_next_that_its_parser_takes(tmp_path: Path) -> None:
    """Each step is a command that is there; those that read a result name the file that this command writes."""
    asked = {command: lines[0][0] for command, lines in EXAMPLES.items() if command not in ("completion", "schema")}
    told = set()
    for command, line in asked.items():
        options = cli._parser().parse_args(shlex.split(line)[1:])
        steps = next_steps(options)
        for step in steps:
            words = shlex.split(step.strip().split("  ")[0])
            cli._parser().parse_args(words[1:])
        told |= {command} if steps else set()
    assert set(asked) - told == {"demo", "page", "export", "numbers"}  # what numbers tells, programs read


def test_every_command_of_the_examples_is_one_with_help(capsys: pytest.CaptureFixture[str]) -> None:
    for arguments in (["--help"], []):
        with pytest.raises(SystemExit):
            main(arguments)
    told = capsys.readouterr()
    commands = set(re.findall(r"^  armwright (\w+)", told.out, re.MULTILINE))
    assert commands >= {"demo", "check", "targets", "reach", "payload", "cycle", "speed", "stops", "page", "schema"}
    for command in commands:
        with pytest.raises(SystemExit) as ended:
            main([command, "--help"])
        assert ended.value.code == 0
    with pytest.raises(SystemExit) as ended:
        main(["dance"])
    assert ended.value.code == 2


def test_files_that_are_no_descriptions(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    deep = tmp_path / "deep.toml"
    deep.write_text("x = " + 100_000 * "[")
    for path in (deep, tmp_path, tmp_path / "none.urdf", Path("/dev/null")):
        refused(capsys, "check", str(path))
