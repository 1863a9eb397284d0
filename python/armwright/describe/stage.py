"""A stage between motor and joint: belt, gear, screw and so on."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from armwright.describe.described import Checks, Described, put
from armwright.describe.drive_units import (
    ANGULAR_SPEED,
    BACKLASH,
    EXPONENT,
    LIFE,
    LINEAR_BACKLASH,
    LINEAR_STIFFNESS,
    POSITIVE_FORCE,
    POSITIVE_TORQUE,
    ROTARY_INERTIA,
    SIGNED_RATIO,
    STIFFNESS,
    if_told,
)
from armwright.describe.shapes import take_name
from armwright.describe.units import SHARE, SIZE, Kind
from armwright.describe.wrong import shown

# Efficiency taken where none is told, and the exponent of torque in life; common practice, no source.
_USUAL_EFFICIENCY = {
    "belt": 0.95,
    "gear": 0.95,
    "strain wave": 0.7,
    "cycloidal": 0.8,
    "screw": 0.85,
    "rack": 0.9,
    "direct": 1.0,
}
_LIFE_EXPONENT = {"cycloidal": 10 / 3}
KINDS = tuple(_USUAL_EFFICIENCY)
_TORQUES = ("rated_torque", "repeated_peak_torque", "momentary_peak_torque")
_UNLIMITED = {"max_input_speed": "maximum input speed", "mean_input_speed": "mean input speed"}


def slides(kind: str, radius: object) -> bool:
    """Whether a stage's output slides: a screw, a rack, and a belt that pulls a carriage."""
    return kind in ("screw", "rack") or (kind == "belt" and radius is not None)


def unit_kinds(sliding: bool) -> dict[str, Kind]:
    """The kinds of quantities of a stage's keys; at the output forces and lengths, where it slides."""
    torque = POSITIVE_FORCE if sliding else POSITIVE_TORQUE
    return {
        "lead": SIZE, "radius": SIZE, "ratio": SIGNED_RATIO, "efficiency": SHARE, "efficiency_back": SHARE,
        **dict.fromkeys(_TORQUES, torque), "inertia": ROTARY_INERTIA, "max_input_speed": ANGULAR_SPEED,
        "mean_input_speed": ANGULAR_SPEED, "stiffness": LINEAR_STIFFNESS if sliding else STIFFNESS,
        "backlash": LINEAR_BACKLASH if sliding else BACKLASH, "rated_life": LIFE, "rated_input_speed": ANGULAR_SPEED,
        "life_exponent": EXPONENT,
    }  # fmt: skip


@dataclass(frozen=True, eq=False, repr=False)
class Stage(Described):
    """A stage. Its input looks towards the motor, its output towards the joint.

    ``kind``: belt, gear, strain wave, cycloidal, screw, rack or direct. ``ratio``: input turns a turn of the output,
    negative if it reverses. A screw has ``lead`` (m a turn) instead, a rack the ``radius`` (m) of its pinion; a belt
    that pulls a carriage that of its pulley. Their output slides: torques there are forces (N), stiffness N/m,
    backlash m.

    ``efficiency`` while the motor drives, ``efficiency_back`` while the joint drives the motor; 0 to 1. At the
    output, N m: ``rated_torque`` for any time, ``repeated_peak_torque`` at starts and stops,
    ``momentary_peak_torque`` at a rare emergency stop. ``inertia`` of what turns with the input, kg m².
    ``max_input_speed``, and the greatest mean over a cycle ``mean_input_speed``, rad/s. ``stiffness`` N m/rad and
    ``backlash`` rad at the output. ``rated_life`` s, at rated torque and ``rated_input_speed``; torque counts there
    to the power ``life_exponent`` (3; cycloidal 10/3).

    >>> aw.Stage("cycloidal", ratio=101, efficiency="84 %", rated_torque="190 N*m", repeated_peak_torque="410 N*m")
    Stage 'cycloidal': cycloidal, ratio 101, efficiency 0.84
    """

    kind: str
    ratio: Any = None
    efficiency: Any = None
    efficiency_back: Any = None
    rated_torque: Any = None
    repeated_peak_torque: Any = None
    momentary_peak_torque: Any = None
    inertia: Any = None
    max_input_speed: Any = None
    mean_input_speed: Any = None
    stiffness: Any = None
    backlash: Any = None
    rated_life: Any = None
    rated_input_speed: Any = None
    life_exponent: Any = None
    lead: Any = None
    radius: Any = None
    name: str | None = None

    def __post_init__(self) -> None:
        checks = Checks(self)
        if not checks.word("kind", self.kind, KINDS):
            checks.done()
        put(self, name=self.kind if self.name is None else checks.take("name", take_name, self.name, ""))
        kinds = unit_kinds(self.slides)
        put(self, **{key: checks.take(key, if_told(kind), getattr(self, key), None) for key, kind in kinds.items()})
        bad = {problem.key for problem in checks.problems}
        check_way(self, lambda key, *told: None if checks.key(key) in bad else checks.wrong(key, *told))
        check_peaks(self, checks)
        if self.rated_life is not None:
            for key in ("rated_torque", "rated_input_speed"):
                if getattr(self, key) is None:
                    checks.wrong(key, "nothing", "this key beside rated_life: it holds at rated torque and speed")
        checks.done()

    @property
    def slides(self) -> bool:
        """Whether the output slides."""
        return slides(self.kind, self.radius)

    @cached_property
    def gain(self) -> float:
        """Input angle by output angle, or by output way (rad/m); with its sign."""
        if self.lead is not None:
            return float(2 * math.pi / self.lead)
        if self.radius is not None:
            return float(1 / self.radius)
        return float(self.ratio or 1.0)

    @cached_property
    def numbers(self) -> dict[str, float]:
        """What counts, SI: as told, else as ``assumptions`` say. No limit is infinity."""
        efficiency = _USUAL_EFFICIENCY[self.kind] if self.efficiency is None else self.efficiency
        rated, repeated, momentary = self._torques
        return {
            "ratio": self.gain,
            "efficiency": float(efficiency),
            "efficiency_back": float(efficiency if self.efficiency_back is None else self.efficiency_back),
            "inertia": float(self.inertia or 0.0),
            "rated_torque": rated,
            "repeated_peak_torque": repeated,
            "momentary_peak_torque": momentary,
            **{key: math.inf if getattr(self, key) is None else float(getattr(self, key)) for key in _UNLIMITED},
            "stiffness": math.inf if self.stiffness is None else float(self.stiffness),
            "backlash": float(self.backlash or 0.0),
            "rated_life": float(self.rated_life or 0.0),
            "rated_input_speed": float(self.rated_input_speed or 0.0),
            "life_exponent": float(self.life_exponent or _LIFE_EXPONENT.get(self.kind, 3.0)),
        }

    @property
    def _torques(self) -> tuple[float, float, float]:
        told = [getattr(self, key) for key in _TORQUES]
        first = next((float(torque) for torque in told if torque is not None), math.inf)
        filled = []
        for torque in told:  # what is left out is the one below it; the lowest, the one above
            first = float(torque) if torque is not None else first
            filled.append(first)
        return filled[0], filled[1], filled[2]

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed because it was not given."""
        if self.kind == "direct" and self.efficiency is None:
            return ()
        assumed = []
        numbers = self.numbers
        if self.efficiency is None:
            assumed.append(f"driving efficiency not given, taken as {numbers['efficiency']:g}, usual for a {self.kind}")
        if self.efficiency_back is None:
            assumed.append(
                f"back-driving efficiency not given, taken as the driving one, {numbers['efficiency_back']:g}"
            )
        missing = [key for key in _TORQUES if getattr(self, key) is None]
        if len(missing) == 3:
            assumed.append(f"no {'force' if self.slides else 'torque'} given that it bears, so it limits none")
        else:
            unit = "N" if self.slides else "N m"
            told = [key for key in _TORQUES if key not in missing]
            for key in missing:
                higher = _TORQUES.index(key) < _TORQUES.index(told[0])
                which = "higher" if higher else "lower"
                taken = f"taken as the {which} one that is, {numbers[key]:.6g} {unit}"
                assumed.append(f"{key.replace('_', ' ')} not given, {taken}")
        if self.max_input_speed is None:
            assumed.append("no maximum input speed, so it limits none")
        if self.inertia is None:
            assumed.append("no inertia: 0")
        return tuple(f"{self.name}: {text}" for text in assumed)

    def __repr__(self) -> str:
        way = f"ratio {self.gain:.6g}"
        if self.lead is not None:
            way = f"lead {1000 * self.lead:.6g} mm"
        elif self.radius is not None:
            way = f"radius {1000 * self.radius:.6g} mm"
        return f"Stage {self.name!r}: {self.kind}, {way}, efficiency {self.numbers['efficiency']:.6g}"


def check_way(stage: Any, wrong: Callable[..., None]) -> None:
    """How far the output goes a turn is told in the way of the kind, and in that alone."""
    needed = {"screw": "lead", "rack": "radius"}.get(stage.kind, "ratio")
    if stage.kind == "belt" and stage.radius is not None:
        needed = "radius"
    for key in ("ratio", "lead", "radius"):
        value = getattr(stage, key)
        if stage.kind == "direct":
            if value is not None and not (key == "ratio" and value == 1):
                wrong(key, shown(value), f"no {key}: the motor turns the joint itself")
        elif key == needed and value is None:
            wrong(key, "nothing", f"this key: a {stage.kind} has one")
        elif key != needed and value is not None:
            instead = f"{needed}, and no {key}: a {stage.kind} is told by its {needed}"
            none = f"no {key}: a {stage.kind} has none"
            wrong(key, f"{key} {float(value):.6g}", none if needed == "ratio" else instead)
    if stage.ratio is not None and stage.ratio == 0:
        wrong("ratio", "0", "a ratio other than 0")


def check_peaks(stage: Any, checks: Checks) -> None:
    """No torque for a shorter time is below one for a longer."""
    unit = "N" if stage.slides else "N m"
    below = ""
    for key in _TORQUES:
        if getattr(stage, key) is None:
            continue
        if below and getattr(stage, key) < getattr(stage, below):
            checks.wrong(key, f"{getattr(stage, key):.6g} {unit}",
                         f"at least the {below.replace('_', ' ')}, {getattr(stage, below):.6g} {unit}")  # fmt: skip
        below = key
