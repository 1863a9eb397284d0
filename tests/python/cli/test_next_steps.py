from __future__ import annotations

import argparse
from pathlib import Path

from armwright.cli.next_steps import next_steps


def test_steps_are_on_the_same_files() -> None:
    asked = argparse.Namespace(command="targets", file=Path("my cell.toml"), output=Path("out"), base=None, tool=None)
    lines = next_steps(asked)
    assert lines[0].strip().startswith("armwright page 'my cell.toml' -o out  ")
    assert "armwright export out/check_targets.nc out/check_targets.xlsx" in lines[3]
    urdf = argparse.Namespace(command="check", file=Path("a.urdf"), base="base_link", tool="tool0")
    assert "armwright reach a.urdf -o out --base base_link --tool tool0" in next_steps(urdf)[0]


def test_none_where_there_is_nothing_to_add() -> None:
    assert next_steps(argparse.Namespace(command="schema")) == []
