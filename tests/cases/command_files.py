"""A small driven cell with a cycle, as files, for tests of the command line."""

from __future__ import annotations

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
