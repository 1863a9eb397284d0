from __future__ import annotations

import copy
import math
import pickle

import numpy as np
import pint
import pytest

from armwright.describe.drive_units import LIFE
from armwright.describe.units import (
    ANGLE,
    DISTANCE,
    INERTIA,
    LENGTH,
    MASS,
    RATIO,
    SHARE,
    SIZE,
    TORQUE,
    Kind,
    Measured,
    VectorOf,
)
from armwright.describe.wrong import Wrong
from armwright.errors import InputError


@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [
        (LENGTH, "410 mm", 0.41), (LENGTH, "-1 1/2 in", -0.0381), (LENGTH, " 1.1m ", 1.1), (MASS, "30 lb", 13.6077711),
        (ANGLE, "120 deg", 2 * math.pi / 3), (ANGLE, "12 arcmin", math.pi / 900), (TORQUE, "1.5 Nm", 1.5),
        (TORQUE, "24 kgf*cm", 2.353596), (RATIO, "101", 101), (SHARE, "85 %", 0.85), (SHARE, "0.85", 0.85),
        (INERTIA, "0.12 kg*m^2", 0.12),
    ],
)  # fmt: skip
def test_text(kind: Kind, text: str, value: float) -> None:
    assert kind.from_text(text) == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(
    ("kind", "text", "expected", "meant"),
    [
        (LENGTH, "1,5 m", "a decimal point and no comma", '"1.5 m"'),
        (LENGTH, "1,500 mm", "a decimal point and no comma", '"1500 mm" or "1.500 mm"'),
        (RATIO, "1/0", 'a ratio of input to output turns, as "101", more than 0', ""),
        (RATIO, "1_000", 'a ratio of input to output turns, as "101", more than 0', ""),
        (LENGTH, "0x10 m", "a unit of length, as mm, m, cm, in", ""),
        (LENGTH, "1.5", 'a length with its unit, as "410 mm"', '"1.5 mm"'),
        (LENGTH, "5 milimetre", "a unit of length, as mm, m, cm, in", "millimetre"),
        (LENGTH, "5 kg", "a unit of length, as mm, m, cm, in", ""),
        (LENGTH, "nan m", 'a length with its unit, as "410 mm"', ""),
        (LENGTH, "1e999 m", "a finite number", ""),
        (TORQUE, "24 kg*cm", "a unit of torque, as N*m, mN*m, kgf*cm, lbf*ft", "kgf*cm"),
        (TORQUE, "20 ft·lb", "a unit of torque, as N*m, mN*m, kgf*cm, lbf*ft", "lbf*ft"),
        (TORQUE, "5 J", "a unit of torque, as N*m, mN*m, kgf*cm, lbf*ft", ""),
        (MASS, "-1 kg", 'a mass with its unit, as "6.2 kg", at least 0 kg', ""),
        (SIZE, "0 mm", 'a length with its unit, as "410 mm", more than 0 m', ""),
        (LIFE, "abc", 'a running time with its unit, as "7000 h", more than 0 s', ""),  # and not: at least 0 s, too
        (SHARE, "120 %", 'a share, as "85 %", more than 0, at most 1', ""),
    ],
)  # fmt: skip
def test_refusals(kind: Kind, text: str, expected: str, meant: str) -> None:
    with pytest.raises(Wrong) as caught:
        kind.from_text(text)
    assert (caught.value.expected, caught.value.meant) == (expected, meant)


@pytest.mark.parametrize(
    ("text", "tolerance"),
    [("4.2 kg ± 10 %", 0.42), ("4.2 kg +- 0.1 kg", 0.1), ("4.2 ± 0.1 kg", 0.1), ("4.2 kg ± 100 g", 0.1), ("4.2 kg", 0)],
)
def test_tolerance(text: str, tolerance: float) -> None:
    mass = MASS.from_text(text)
    assert mass == 4.2
    assert mass.tolerance == pytest.approx(tolerance)
    for same in (pickle.loads(pickle.dumps(mass)), copy.deepcopy(mass), MASS.from_python(mass)):
        assert isinstance(same, Measured)
        assert same.tolerance == mass.tolerance


def test_files_need_units() -> None:
    assert LENGTH.from_file("1 m") == 1
    assert RATIO.from_file(101) == 101
    for value in (1.5, 0, True, None, ["1 m"], {}):
        with pytest.raises(Wrong):
            LENGTH.from_file(value)


def test_python_takes_si_text_and_pint() -> None:
    registry: pint.UnitRegistry[float] = pint.UnitRegistry()
    for value in (0.0254, np.float64(0.0254), "1 in", registry.Quantity(1, "inch")):
        assert LENGTH.from_python(value) == pytest.approx(0.0254, rel=1e-7)
    assert LENGTH.from_python(2) == 2
    assert VectorOf(LENGTH).from_python(registry.Quantity(np.array([1, 2, 3]), "mm")) == (0.001, 0.002, 0.003)
    for wrong in (True, None, 1j, "x", [1], math.nan, math.inf, registry.Quantity(1, "kg"), registry.Quantity(1, ""),
                  np.array([1.0, 2.0]), b"1 m"):  # fmt: skip
        with pytest.raises(InputError, match=r"^size: got "):
            LENGTH.si_value("size", wrong)


def test_vectors() -> None:
    lengths = VectorOf(LENGTH)
    for value in ("0, 0, 410 mm", "0 m, 0 mm, 0.41 m", ["0 mm", "0 mm", "410 mm"], "(0, 0, 410 mm)"):
        assert lengths.from_file(value) == (0, 0, 0.41)
    assert lengths.from_python((0, "0 mm", 0.41)) == (0, 0, 0.41)
    for wrong in ("0, 410 mm", "0, 0, 410", [0, 0, 410], "1,5, 0, 3 mm", 5, {"x": 1}, [["0 m"] * 3] * 3):
        with pytest.raises(Wrong):
            lengths.from_file(wrong)


def test_distance_zero_is_taken() -> None:
    assert DISTANCE.from_file("0 mm") == 0


@pytest.mark.parametrize(
    ("kind", "text", "expected"),
    [
        (MASS, "4 kg ± 5 kg", "a tolerance that leaves it at least 0 kg"),
        (SIZE, "4 mm ± 100 %", "a tolerance that leaves it more than 0 m"),
        (SHARE, "95 % ± 10 %", "a tolerance that leaves it more than 0, at most 1"),
    ],
)
def test_a_tolerance_stays_within_what_is_taken(kind: Kind, text: str, expected: str) -> None:
    with pytest.raises(InputError) as told:
        kind.si_value("key", text)
    assert told.value.problems[0].expected == expected
    assert MASS.si_value("key", "4 kg ± 4 kg").tolerance == 4
