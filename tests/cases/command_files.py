"""A small driven cell with a cycle, as files, and cells of a six-axis arm, for tests of the command line."""

from __future__ import annotations

from pathlib import Path

from cases.arms import spherical_arm


def six_axis_cell(folder: Path, text: str) -> Path:
    """A cell file of that text, in which {arm} is a six-axis arm beside it."""
    path = folder / "cell.toml"
    path.write_text(text.format(arm=Path(spherical_arm().write_toml(folder)).name), encoding="utf-8")
    return path


CELL = """\
name = "small cell"
arm = "arm.toml"
[load]
name = "pot"
mass = "3 kg"
[supply]
voltage = "230 V"
branch_current = "16 A"
"""

CYCLE = """\
name = "up and round"
[[move]]
kind = "joints"
name = "there"
posture = ["60 deg", "200 mm"]
[[move]]
kind = "pick up"
[[move]]
kind = "dwell"
time = "0.5 s"
[[move]]
kind = "joints"
name = "back"
posture = ["0 deg", "20 mm"]
[[move]]
kind = "set down"
"""
