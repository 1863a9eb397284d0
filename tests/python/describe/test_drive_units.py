# ruff: noqa: E501  tables stand whole
"""Factors: definitions of the SI brochure (9th ed.), the yard and pound agreement of 1959, g_n of CGPM 1901. That an
angular speed in 1/min or Hz is ambiguous, and that the torque and voltage constants of a three-phase motor in rms values
differ by the root of 3, are facts of the trade (memory)."""

from __future__ import annotations

import math

import pint
import pytest

from armwright.describe import drive_units as u
from armwright.describe.units import Kind
from armwright.describe.wrong import Wrong

G, INCH, POUND = 9.80665, 0.0254, 0.45359237


@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [
        (u.POWER, "0.75 kW", 750), (u.POWER, "1 hp", 550 * 12 * INCH * POUND * G), (u.POWER, "200 watt", 200),
        (u.ENERGY, "45 J", 45), (u.ENERGY, "2 W*h", 7200), (u.ENERGY, "3 W*s", 3),
        (u.ANGULAR_SPEED, "3000 rpm", 100 * math.pi), (u.ANGULAR_SPEED, "3000 rev/min", 100 * math.pi),
        (u.ANGULAR_SPEED, "3000 r/min", 100 * math.pi), (u.ANGULAR_SPEED, "180 deg/s", math.pi),
        (u.ANGULAR_SPEED, "2 turn/s", 4 * math.pi), (u.ANGULAR_SPEED, "3 krpm", 100 * math.pi), (u.ANGULAR_SPEED, "3 rad/s", 3),
        (u.LINEAR_SPEED, "60 m/min", 1), (u.LINEAR_SPEED, "1 in/s", INCH),
        (u.ANGULAR_ACCELERATION, "180 deg/s^2", math.pi), (u.ANGULAR_ACCELERATION, "60 rpm/s", 2 * math.pi),
        (u.LINEAR_ACCELERATION, "2500 mm/s²", 2.5), (u.LINEAR_ACCELERATION, "0.5 g_0", G / 2),
        (u.ANGULAR_JERK, "180 deg/s^3", math.pi), (u.LINEAR_JERK, "20 m/s³", 20),
        (u.ROTARY_INERTIA, "0.5 kg cm^2", 5e-5), (u.ROTARY_INERTIA, "1 kgf*cm*s^2", G / 100), (u.ROTARY_INERTIA, "1 lb*in^2", POUND * INCH**2),
        (u.STIFFNESS, "31 N*m/arcmin", 31 * 10800 / math.pi), (u.STIFFNESS, "31 Nm/arcmin", 31 * 10800 / math.pi),
        (u.STIFFNESS, "2 kN*m/rad", 2000), (u.STIFFNESS, "1 N*m/deg", 180 / math.pi), (u.LINEAR_STIFFNESS, "120 N/um", 1.2e8),
        (u.VISCOUS, "2 N*m*s", 2), (u.VISCOUS, "2 Nms", 2), (u.VISCOUS, "2 N*m*s/rad", 2), (u.VISCOUS, "2 N*m/rpm", 60 / math.pi),
        (u.VISCOUS, "2 mNm/rpm", 0.06 / math.pi), (u.LINEAR_VISCOUS, "40 N*s/m", 40),
        (u.VOLTAGE, "0.4 kV", 400), (u.CURRENT, "300 mA", 0.3), (u.RESISTANCE, "1.3 Ω", 1.3), (u.RESISTANCE, "1.3 ohm", 1.3),
        (u.TORQUE_CONSTANT, "0.45 Nm/A", 0.45), (u.TORQUE_CONSTANT, "45 mN*m/A", 0.045),
        (u.CAPACITANCE, "1500 uF", 1.5e-3), (u.CAPACITANCE, "1500 µF", 1.5e-3), (u.TIME, "30 ms", 0.03), (u.TIME, "5 min", 300),
        (u.LIFE, "7000 h", 2.52e7), (u.LOSS_FACTOR, "5 W/(N*m)^2", 5), (u.LOSS_FACTOR, "5 W/(Nm)²", 5), (u.RATE, "2 N/mm", 2000),
        (u.RESOLUTION, "0.1 deg", math.pi / 1800), (u.BACKLASH, "1 arcmin", math.pi / 10800), (u.SIGNED_RATIO, "-53.7", -53.7),
        (u.COUNTS, "1", 1), (u.COUNTS, "131072", 131072), (u.COUNTS, "4.096e3", 4096),
    ],
)  # fmt: skip
def test_text(kind: Kind, text: str, value: float) -> None:
    assert kind.from_text(text) == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(
    ("kind", "text", "meant"),
    [
        (u.ANGULAR_SPEED, "50 Hz", "turn/s"), (u.ANGULAR_SPEED, "3000 1/min", "rpm"), (u.ANGULAR_SPEED, "3000 min^-1", "rpm"),
        (u.ANGULAR_SPEED, "180 deg", ""), (u.ANGULAR_SPEED, "3 rad*s", ""), (u.ANGULAR_SPEED, "3000", '"3000 rpm"'),
        (u.ANGULAR_SPEED, "0 rpm", ""), (u.ANGULAR_ACCELERATION, "400 deg/s", ""), (u.ANGULAR_JERK, "400 rad^2/s^3", ""),
        (u.STIFFNESS, "31 N*m", "N*m/rad"), (u.STIFFNESS, "31 N*m*rad", ""), (u.STIFFNESS, "31 J/rad", ""),
        (u.VISCOUS, "2 N*m/Hz", ""), (u.VISCOUS, "1 N*m*min", ""), (u.VISCOUS, "1 N*m*s*rad", ""), (u.VISCOUS, "1 J*s", ""),
        (u.TORQUE_CONSTANT, "30 V/krpm", ""), (u.TORQUE_CONSTANT, "0.3 V*s/rad", ""), (u.TORQUE_CONSTANT, "0.3 Wb", ""),
        (u.TORQUE_CONSTANT, "0.3 V*s", ""), (u.TORQUE_CONSTANT, "4.6 kg*cm/A", ""), (u.TORQUE_CONSTANT, "0.5 Nm/Arms", "N*m/A"),
        (u.ENERGY, "30 N*m", "J"), (u.ENERGY, "30 lbf*ft", "J"), (u.POWER, "1 kVA", "kW"), (u.POWER, "1 PS", "metric_horsepower"),
        (u.POWER, "5 J", ""), (u.CURRENT, "3 Arms", "A"), (u.VOLTAGE, "230 VAC", "V"), (u.CAPACITANCE, "1500 MFD", "uF"),
        (u.TIME, "5 m", "min"), (u.TIME, "-1 s", ""), (u.LINEAR_ACCELERATION, "0.5 g", "g_0"), (u.LINEAR_SPEED, "100 ipm", "in/min"),
        (u.COUNTS, "1.5", ""), (u.COUNTS, "0", ""), (u.COUNTS, "0.5", ""), (u.COUNTS, "-4096", ""), (u.COUNTS, "4096 rad", ""),
        (u.ROTARY_INERTIA, "-1 kg*m^2", ""), (u.ROTARY_INERTIA, "1 kg*cm*s^2", ""), (u.RATE, "3 kg/mm", ""), (u.RESISTANCE, "1,3 ohm", '"1.3 ohm"'),
    ],
)  # fmt: skip
def test_refusals(kind: Kind, text: str, meant: str) -> None:
    with pytest.raises(Wrong) as caught:
        kind.from_text(text)
    assert caught.value.meant == meant


def test_pint_quantities_say_the_same() -> None:
    registry: pint.UnitRegistry[float] = pint.UnitRegistry()
    for kind, unit, value in (
        (u.ANGULAR_SPEED, "rpm", math.pi / 30), (u.STIFFNESS, "N*m/arcmin", 10800 / math.pi), (u.LOSS_FACTOR, "W/(N*m)**2", 1),
        (u.VISCOUS, "N*m/rpm", 30 / math.pi),
    ):  # fmt: skip
        assert kind.from_python(registry.Quantity(1, unit)) == pytest.approx(value, rel=1e-12)
    for kind, unit in ((u.ANGULAR_SPEED, "hertz"), (u.TORQUE_CONSTANT, "volt*second"), (u.ENERGY, "newton*meter")):
        with pytest.raises(Wrong):
            kind.from_python(registry.Quantity(1, unit))


def test_every_kind_reads_its_own_example_and_units() -> None:
    kinds = [value for value in vars(u).values() if isinstance(value, Kind)]
    assert len(kinds) > 25
    for kind in kinds:
        assert kind.from_text(kind.example) == kind.from_text(kind.example)
        for unit in kind.units:
            assert kind.factor(unit) > 0
