"""A cycle for the cell of description_files, of our own numbers."""

from __future__ import annotations

CYCLE = """\
name = "rack to tub"
start = "rack 1"
period = "20 s"

[limits]
speed = "80 %"
tool_speed = "1 m/s"
joint_speed = { "shoulder" = "90 deg/s", track = "0.8 m/s" }
joint_acceleration = { "axis 1" = "200 deg/s^2" }

[[load]]
name = "pot"
mass = "3 kg"

[[move]]
kind = "pick up"
load = "pot"

[[move]]
kind = "dwell"
time = "500 ms"

[[move]]
kind = "line"
to = "rack 1"
at = "approach"
tool_speed = "250 mm/s"

[[move]]
kind = "joints"
to = "glaze tub"
through = ["rack 1", ["1 m", "10 deg", "20 deg", "0 deg"]]
blend = "50 mm"
speed = "50 %"
track = "before arm"
timing = "trapezoidal"

[[move]]
kind = "arc"
pose = { position = "800, 300, 700 mm", direction = "down" }
via = "900, 300, 600 mm"
duration = "2 s"

[[move]]
kind = "set down"

[[move]]
kind = "joints"
to = "rack 1"
via_approach = true
"""
