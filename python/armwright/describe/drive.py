"""What stands between the supply and a joint: motor, stages, brake, friction."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import numpy as np

from armwright.describe.described import Checks, Described, put, take_all
from armwright.describe.drive_units import (
    ENERGY,
    LINEAR_VISCOUS,
    POSITIVE_FORCE,
    POSITIVE_TORQUE,
    TIME,
    VISCOUS,
    if_told,
)
from armwright.describe.motor import Motor
from armwright.describe.shapes import take_name
from armwright.describe.stage import Stage
from armwright.describe.units import FORCE, TORQUE
from armwright.describe.wrong import shown

most_stages = 4
_CLOSING = (
    0.1  # s; on the slow side of what is usual for spring-applied brakes of small motors (common practice, no source)
)


@dataclass(frozen=True, eq=False, repr=False)
class Brake(Described):
    """A brake that closes when the power goes. ``torque``: static, N m, where it sits. ``side``: "motor", on its
    shaft, or "joint" (there a force, N, where the joint slides: ``sliding``). ``delay``: from power off to full
    torque, s (left out: 0.1 s). ``energy``: that it bears in one stop, J.

    >>> aw.Brake("2.4 N*m", delay="60 ms")
    Brake 'brake': 2.4 N m at the motor, closes in 60 ms
    """

    torque: Any
    side: str = "motor"
    delay: Any = None
    energy: Any = None
    sliding: bool = False
    name: str = "brake"

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(self, sliding=checks.flag("sliding", self.sliding))
        if checks.word("side", self.side, ("motor", "joint")) and self.sliding and self.side == "motor":
            checks.wrong("sliding", "a sliding brake at the motor", 'side "joint": a motor turns')
        kind = POSITIVE_FORCE if self.sliding else POSITIVE_TORQUE
        put(
            self,
            name=checks.take("name", take_name, self.name, ""),
            torque=checks.take("torque", kind.si_value, self.torque, 1.0),
            delay=checks.take("delay", if_told(TIME), self.delay, None),
            energy=checks.take("energy", if_told(ENERGY), self.energy, None),
        )
        checks.done()

    @property
    def closing(self) -> float:
        """From power off to full torque, s: as told, else 0.1 s."""
        return _CLOSING if self.delay is None else float(self.delay)

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed because it was not given."""
        assumed = [f"no delay: {_CLOSING:g} s taken"] if self.delay is None else []
        assumed += ["no energy per stop, so none is too much"] if self.energy is None else []
        return tuple(f"{self.name}: {text}" for text in assumed)

    def __repr__(self) -> str:
        unit = "N" if self.sliding else "N m"
        return (
            f"Brake {self.name!r}: {self.torque:.6g} {unit} at the {self.side}, closes in {1000 * self.closing:.6g} ms"
        )


@dataclass(frozen=True, eq=False, repr=False)
class Friction(Described):
    """Torque that resists motion. ``coulomb``: N m, one value or (forward, backward), both 0 or more; ``viscous``: N
    m s. Where what rubs slides (``sliding``): N and N s/m.

    >>> aw.Friction(coulomb="4 N*m", viscous="1.2 N*m*s")
    Friction: 4 N m forward, 4 N m backward, 1.2 N m s/rad
    """

    coulomb: Any = 0.0
    viscous: Any = 0.0
    sliding: bool = False

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(self, sliding=checks.flag("sliding", self.sliding))
        torque, viscous = (FORCE, LINEAR_VISCOUS) if self.sliding else (TORQUE, VISCOUS)
        told = self.coulomb
        pair = tuple(told) if isinstance(told, list | tuple | np.ndarray) else (told, told)
        if len(pair) == 2:
            names = ("coulomb", "coulomb") if pair[0] is told else ("coulomb[0]", "coulomb[1]")
            taken = [checks.take(name, torque.si_value, value, 0.0) for name, value in zip(names, pair, strict=True)]
            put(self, coulomb=tuple(taken))
            if names[0] == names[1]:
                checks.problems[:] = list({p.key: p for p in checks.problems}.values())  # told once
        else:
            checks.wrong("coulomb", shown(told), "one value, or two: forward and backward")
        put(self, viscous=checks.take("viscous", viscous.si_value, self.viscous, 0.0))
        checks.done()

    def __repr__(self) -> str:
        unit = "N" if self.sliding else "N m"
        speed = "m" if self.sliding else "rad"
        forward, backward = self.coulomb
        both = f"{forward:.6g} {unit} forward, {backward:.6g} {unit} backward"
        return f"Friction: {both}, {self.viscous:.6g} {unit} s/{speed}"


@dataclass(frozen=True, eq=False, repr=False)
class Drive(Described):
    """What turns a joint: ``motor``, then ``stages`` from the motor to the joint (none: the motor turns it itself), a
    ``brake``, and ``friction`` at the joint and ``motor_friction`` at the motor's shaft. A prismatic joint's last
    stage is a screw, a rack, or a belt with a pulley's radius.

    >>> drive = arm.description.joints[1].drive
    >>> drive
    Drive: '1 kW motor', reducer 121 large (121), brake 4 N m
    >>> drive.ratio
    121.0
    """

    motor: Motor
    stages: Any = ()
    brake: Brake | None = None
    friction: Friction | None = None
    motor_friction: Friction | None = None

    def __post_init__(self) -> None:
        checks = Checks(self)
        if not isinstance(self.motor, Motor):
            checks.wrong("motor", shown(self.motor), "a Motor")
        put(self, stages=checks.take("stages", lambda k, v: take_all(k, v, Stage), self.stages, ()))
        for key, kind in (("brake", Brake), ("friction", Friction), ("motor_friction", Friction)):
            if getattr(self, key) is not None and not isinstance(getattr(self, key), kind):
                checks.wrong(key, shown(getattr(self, key)), f"a {kind.__name__}, or None")
        if not checks.problems:
            put(self, stages=_numbered(self.stages))
            self._check_ends(checks)
        checks.done()

    def _check_ends(self, checks: Checks) -> None:
        if len(self.stages) > most_stages:
            checks.wrong("stages", f"{len(self.stages)} stages", f"at most {most_stages}")
        for i, stage in enumerate(self.stages[:-1]):
            if stage.slides:
                checks.wrong(f"stages[{i}].kind", shown(stage.kind), "a stage that turns: only the last one may slide")
        sliding = "slides" if self.slides else "turns"
        way = "with sliding=True in Python, in N in a file"
        if not self.slides:
            way = "without sliding in Python, in N*m in a file"
        as_output = f"one that {sliding}, as the output of the last stage: {way}"
        if self.motor_friction is not None and self.motor_friction.sliding:
            checks.wrong("motor_friction", "a friction that slides", "one that turns: a motor does")
        if self.friction is not None and self.friction.sliding != self.slides:
            checks.wrong("friction", f"a friction that {'slides' if self.friction.sliding else 'turns'}", as_output)
        if self.brake is not None and self.brake.side == "joint" and self.brake.sliding != self.slides:
            checks.wrong("brake", f"a brake that {'slides' if self.brake.sliding else 'turns'}", as_output)

    @property
    def slides(self) -> bool:
        """Whether what it moves slides."""
        return bool(self.stages) and bool(self.stages[-1].slides)

    @cached_property
    def ratio(self) -> float:
        """Motor turns a turn of the joint (rad/m where it slides), with sign."""
        return float(math.prod(stage.gain for stage in self.stages))

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed because it was not given."""
        assumed = list(self.motor.assumptions)
        for stage in self.stages:
            assumed += stage.assumptions
        assumed += self.brake.assumptions if self.brake is not None else ["no brake"]
        if self.friction is None and self.motor_friction is None:
            assumed.append("no friction given: none counts besides the efficiencies")
        return tuple(assumed)

    def __repr__(self) -> str:
        chain = ", ".join(f"{stage.name} ({stage.gain:.6g})" for stage in self.stages) or "direct"
        unit = "N" if self.brake is not None and self.brake.sliding else "N m"
        brake = f", brake {self.brake.torque:.6g} {unit}" if self.brake is not None else ", no brake"
        return f"Drive: {self.motor.name!r}, {chain}{brake}"


def _numbered(stages: tuple[Stage, ...]) -> tuple[Stage, ...]:
    """The stages, each with a name of its own: a second "gear" is "gear 2", or has the next number that is free."""
    told, known = {stage.name for stage in stages}, dict[str | None, Stage]()
    for stage in stages:
        name, number = stage.name, 2
        while name in known or (name != stage.name and name in told):
            name, number = f"{stage.name} {number}", number + 1
        known[name] = stage if name == stage.name else replace(stage, name=name)
    return tuple(known.values())
