"""The script, sourced in bash, completes as a person's tab key would make it."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

from armwright.cli import main
from cases.command_line import refused

shtab = pytest.importorskip("shtab")


@pytest.fixture(scope="module")
def bash_script(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("bash") / "armwright.bash"
    capture = pytest.MonkeyPatch()
    told: list[str] = []
    capture.setattr("builtins.print", lambda *words, **_: told.append(" ".join(map(str, words))))
    try:
        assert main(["completion", "bash"]) == 0
    finally:
        capture.undo()
    path.write_text("\n".join(told), encoding="utf-8")
    return path


def completed(script: Path, folder: Path, *words: str) -> list[str]:
    """What bash offers for the last word."""
    program = f"""
        source {script}
        COMP_WORDS=({" ".join(f"'{word}'" for word in words)})
        COMP_CWORD={len(words) - 1} COMP_LINE="{" ".join(words)}"; COMP_POINT=${{#COMP_LINE}}
        function_name=$(complete -p armwright | sed 's/.*-F \\([^ ]*\\) .*/\\1/')
        $function_name armwright "${{COMP_WORDS[COMP_CWORD]}}" "${{COMP_WORDS[COMP_CWORD-1]}}"
        printf '%s\\n' "${{COMPREPLY[@]}}"
    """
    done = subprocess.run(["bash", "--norc", "-c", program], capture_output=True, text=True, cwd=folder, check=True)
    assert done.stderr == ""
    return done.stdout.split()


@pytest.mark.skipif(shutil.which("bash") is None, reason="needs bash")
def test_bash_completes_commands_options_choices_and_files(bash_script: Path, tmp_path: Path) -> None:
    (tmp_path / "cell.toml").touch()
    (tmp_path / "cellar").mkdir()
    def offered(*words: str) -> list[str]:
        return sorted(word.rstrip("/") for word in completed(bash_script, tmp_path, "armwright", *words))

    assert offered("pa") == ["page", "payload"]
    assert offered("payload", "--att") == ["--attitude"]
    assert offered("payload", "--attitude", "") == ["any", "down", "level"]
    assert "cell.toml" in offered("check", "cel")
    assert offered("reach", "-o", "cel") == ["cellar"]


@pytest.mark.parametrize(("shell", "begins"), [("zsh", "#compdef armwright"), ("fish", "#"), ("bash", "#")])
def test_each_shell_has_a_script(shell: str, begins: str, capsys: pytest.CaptureFixture[str]) -> None:
    if shell not in shtab.SUPPORTED_SHELLS:
        assert f"shtab that knows {shell}" in refused(capsys, "completion", shell)
        return
    assert main(["completion", shell]) == 0
    said = capsys.readouterr().out
    assert said.startswith(begins) and "armwright" in said and "attitude" in said
    if shutil.which(shell):
        subprocess.run([shell, "-n"], input=said, text=True, check=True)


def test_without_the_library(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(__import__("sys").modules, "shtab", None)
    assert "pip install shtab" in refused(capsys, "completion", "bash")
