"""A motor: what torque it gives at which speed, for any time and for a short one, and what it loses."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from armwright.describe.described import Checks, Described, put
from armwright.describe.drive_units import (
    ANGULAR_SPEED,
    COUNTS,
    LOSS_FACTOR,
    POSITIVE_TORQUE,
    POWER,
    RESISTANCE,
    RESOLUTION,
    ROTARY_INERTIA,
    TORQUE_CONSTANT,
    if_told,
)
from armwright.describe.shapes import take_name
from armwright.describe.units import TORQUE, Measured, replace_bounds
from armwright.describe.wrong import shown
from armwright.errors import InputError

Curve = tuple[tuple[float, float], ...]
most_points = 12
_SPEED = replace_bounds(ANGULAR_SPEED, least=0.0)
_POINTS = (
    f'a torque, or 2 to {most_points} points of speed and torque, as [["0 rpm", "2.4 N*m"], ["3000 rpm", "2.2 N*m"]]'
)


def take_torque_or_curve(key: str, value: Any) -> Measured | Curve:
    """A torque (N m), or the points of a curve: pairs of a speed (rad/s) and a torque (N m)."""
    if isinstance(value, str | int | float) or hasattr(value, "magnitude"):
        return POSITIVE_TORQUE.si_value(key, value)
    try:
        value = list(value)
        points = [tuple(point) for point in value if not isinstance(point, str)]
    except TypeError:
        raise InputError.of(key, shown(value), _POINTS) from None
    if len(points) != len(value) or not 2 <= len(points) <= most_points or any(len(point) != 2 for point in points):
        raise InputError.of(key, shown(value), _POINTS)
    curve = tuple((_SPEED.si_value(f"{key}[{i}][0]", speed), TORQUE.si_value(f"{key}[{i}][1]", torque))
                  for i, (speed, torque) in enumerate(points))  # fmt: skip
    if curve[0][0] > 0:
        raise InputError.of(f"{key}[0][0]", rpm_text(curve[0][0]), "a first point at rest, 0 rpm")
    if not curve[0][1] > 0:
        raise InputError.of(f"{key}[0][1]", "0 N m", "a torque above 0 at rest")
    for i in range(1, len(curve)):
        if not curve[i][0] > curve[i - 1][0]:
            raise InputError.of(f"{key}[{i}][0]", f"{rpm_text(curve[i][0])} after {rpm_text(curve[i - 1][0])}",
                                "speeds that rise from point to point")  # fmt: skip
    return curve


def rpm_text(speed: float) -> str:
    return f"{speed * 30 / math.pi:.6g} rpm"


def torque_at(curve: Curve, speed: float) -> float:
    """Torque (N m) of a curve at a speed (rad/s): straight between points, 0 beyond the last."""
    for i in range(1, len(curve)):
        (below, first), (above, second) = curve[i - 1], curve[i]
        if speed <= above:
            return first + (speed - below) / (above - below) * (second - first)
    return 0.0


@dataclass(frozen=True, eq=False, repr=False)
class Motor(Described):
    """A motor. Speeds in rad/s and torques in N m at its shaft, currents and voltages rms.

    ``continuous`` and ``peak``: either torques, or curves as lists of (speed, torque) points that begin at rest,
    straight between points. Told as torques, the curve is: that torque from rest to ``rated_speed`` (to
    ``max_speed``, if no rated speed is given); from there a straight line to the torque that gives the same power at
    ``max_speed``. ``peak`` left out: the continuous one. ``max_speed``: where both curves end; curves told as points
    end there by themselves.

    ``rotor_inertia`` kg m², with what is fixed to the shaft. Copper loss, told in one of three ways:
    ``winding_loss``, W/(N m)²; ``loss_at_rated``, W at the continuous torque (at ``rated_speed`` if that is given,
    else at rest); or ``resistance`` (ohm, between two leads, warm) with ``torque_constant`` (N m per A rms in a
    lead): 1.5 R I². ``encoder_counts`` a turn, or ``encoder_resolution`` (rad).

    >>> aw.Motor(continuous="2.4 N*m", peak="7.1 N*m", rated_speed="3000 rpm", max_speed="5500 rpm", name="750 W motor")
    Motor '750 W motor': 2.4 N m, peak 7.1 N m, up to 5500 rpm
    """

    continuous: Any
    peak: Any = None
    max_speed: Any = None
    rated_speed: Any = None
    rotor_inertia: Any = None
    winding_loss: Any = None
    loss_at_rated: Any = None
    resistance: Any = None
    torque_constant: Any = None
    encoder_counts: Any = None
    encoder_resolution: Any = None
    name: str = "motor"

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(
            self,
            name=checks.take("name", take_name, self.name, ""),
            continuous=checks.take("continuous", take_torque_or_curve, self.continuous, Measured(0.0)),
        )
        if self.peak is not None:
            put(self, peak=checks.take("peak", take_torque_or_curve, self.peak, None))
        kinds = {
            "max_speed": ANGULAR_SPEED, "rated_speed": ANGULAR_SPEED, "rotor_inertia": ROTARY_INERTIA,
            "winding_loss": LOSS_FACTOR, "loss_at_rated": POWER, "resistance": RESISTANCE,
            "torque_constant": TORQUE_CONSTANT, "encoder_counts": COUNTS, "encoder_resolution": RESOLUTION,
        }  # fmt: skip
        put(self, **{key: checks.take(key, if_told(kind), getattr(self, key), None) for key, kind in kinds.items()})
        self._check_ways(checks)
        if not checks.problems:
            self._check_speeds(checks)
        if not checks.problems:
            self._check_peak(checks)
        checks.done()

    def _check_ways(self, checks: Checks) -> None:
        """One way to tell the loss, one to tell the encoder."""
        ways = [key for key in ("winding_loss", "loss_at_rated", "resistance") if getattr(self, key) is not None]
        if len(ways) > 1:
            expected = "one way to tell the loss: winding_loss, loss_at_rated, or resistance and torque_constant"
            checks.wrong(ways[1], f"{ways[1]} besides {ways[0]}", expected)
        if self.resistance is not None and self.torque_constant is None:
            checks.wrong(
                "torque_constant", "nothing", "this key beside resistance: the current is torque / torque constant"
            )
        if self.encoder_counts is not None and self.encoder_resolution is not None:
            checks.wrong("encoder_resolution", "encoder_resolution besides encoder_counts", "one of the two")

    def _check_speeds(self, checks: Checks) -> None:
        told = [curve for curve in (self.continuous, self.peak) if isinstance(curve, tuple)]
        end = max((curve[-1][0] for curve in told), default=self.max_speed)
        if end is None and self.rated_speed is None:
            checks.wrong("max_speed", "nothing", "the greatest speed, or a curve as points of speed and torque")
        if self.max_speed is not None and abs(end - self.max_speed) > 1e-9 * end:
            checks.wrong("max_speed", rpm_text(self.max_speed), f"the speed at which the curve ends, {rpm_text(end)}")
        elif self.rated_speed is not None and end is not None and self.rated_speed > end * (1 + 1e-9):
            checks.wrong("rated_speed", rpm_text(self.rated_speed), f"at most the greatest speed, {rpm_text(end)}")

    def _check_peak(self, checks: Checks) -> None:
        lasting, peak = self.continuous_curve, self.peak_curve
        if isinstance(self.continuous, float) and isinstance(self.peak, float):
            if self.peak < self.continuous:
                checks.wrong("peak", f"{self.peak:.6g} N m", f"at least the continuous one, {self.continuous:.6g} N m")
            return
        if lasting[-1][0] > peak[-1][0] * (1 + 1e-9):
            checks.wrong("peak", f"a curve that ends at {rpm_text(peak[-1][0])}",
                         f"one that goes on to the continuous one's end, {rpm_text(lasting[-1][0])}")  # fmt: skip
            return
        for speed in sorted({point[0] for point in (*lasting, *peak) if point[0] <= lasting[-1][0]}):
            least, most = torque_at(lasting, speed), torque_at(peak, speed)
            if most < least * (1 - 1e-9):
                checks.wrong("peak", f"{most:.6g} N m at {rpm_text(speed)}",
                             f"at least the continuous torque there, {least:.6g} N m")  # fmt: skip
                return

    @cached_property
    def greatest_speed(self) -> float:
        """Where the curves end, rad/s."""
        told = [curve[-1][0] for curve in (self.continuous, self.peak) if isinstance(curve, tuple)]
        return float(max(told) if told else self.rated_speed if self.max_speed is None else self.max_speed)

    def _curve(self, told: Any) -> Curve:
        if isinstance(told, tuple):
            return told
        end = self.greatest_speed
        if self.rated_speed is None or self.rated_speed >= end * (1 - 1e-9):
            return (0.0, told), (end, told)
        return (0.0, told), (self.rated_speed, told), (end, told * self.rated_speed / end)

    @cached_property
    def continuous_curve(self) -> Curve:
        """(speed rad/s, torque N m) points of what it gives for any time."""
        return self._curve(self.continuous)

    @cached_property
    def peak_curve(self) -> Curve:
        """(speed rad/s, torque N m) points of what it gives for a short time."""
        return self._curve(self.continuous if self.peak is None else self.peak)

    @cached_property
    def rated_torque(self) -> float:
        """Continuous torque at the rated speed, or at rest if no rated speed is given, N m."""
        return torque_at(self.continuous_curve, self.rated_speed or 0.0)

    @cached_property
    def loss_factor(self) -> float:
        """Copper loss by squared torque, W/(N m)²; 0 if none was told."""
        if self.winding_loss is not None:
            return float(self.winding_loss)
        if self.loss_at_rated is not None:
            return float(self.loss_at_rated / self.rated_torque**2)
        if self.resistance is not None:  # R between two leads is that of two phases: 3 (R / 2) I²
            return float(1.5 * self.resistance / self.torque_constant**2)
        return 0.0

    @cached_property
    def counts(self) -> float:
        """Encoder counts a turn; 0 if not told."""
        if self.encoder_resolution is not None:
            return float(2 * math.pi / self.encoder_resolution)
        return float(self.encoder_counts or 0.0)

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed because it was not given."""
        assumed = []
        short = isinstance(self.continuous, float) or isinstance(self.peak, float)
        if short and self.rated_speed is None:
            assumed.append(
                f"no rated speed, so its torque is the same up to the greatest speed, {rpm_text(self.greatest_speed)}"
            )
        elif short and self.rated_speed < self.greatest_speed * (1 - 1e-9):
            assumed.append(
                "no curve between rated and greatest speed: taken as straight, to the same power at the greatest speed"
            )
        elif short and self.max_speed is None:
            assumed.append(f"no greatest speed: taken as the rated one, {rpm_text(self.greatest_speed)}")
        if self.peak is None:
            assumed.append("no peak torque: taken as the continuous one")
        if self.rotor_inertia is None:
            assumed.append("no rotor inertia: 0, so peak torques come out too low")
        if self.loss_factor == 0:
            assumed.append("no winding loss: 0, so heat and power come out too low")
        return tuple(f"motor {self.name!r}: {text}" for text in assumed)

    def __repr__(self) -> str:
        lasting, peak = self.continuous_curve[0][1], self.peak_curve[0][1]
        return f"Motor {self.name!r}: {lasting:.6g} N m, peak {peak:.6g} N m, up to {rpm_text(self.greatest_speed)}"
