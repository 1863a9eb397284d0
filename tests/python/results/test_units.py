"""The pound and the inch are exact (international yard and pound agreement, 1959; also in NIST SP 811)."""

import numpy as np
import pytest

from armwright.errors import InputError
from armwright.results.units import shown


def test_factors():
    assert shown("m", "us").factor * 0.0254 == pytest.approx(1, rel=1e-15)
    assert shown("kg", "us").factor * 0.45359237 == pytest.approx(1, rel=1e-15)
    assert shown("rad", "si").factor * np.pi == pytest.approx(180, rel=1e-15)
    assert shown("m3", "us").factor == pytest.approx(35.3147, rel=1e-6)
    # NIST SP 811, appendix B.9: 1 lbf = 4.448 222 N, 1 lbf·ft = 1.355 818 N·m, 1 psi = 6894.757 Pa
    assert 1 / shown("N", "us").factor == pytest.approx(4.448222, rel=1e-7)
    assert 1 / shown("N*m", "us").factor == pytest.approx(1.355818, rel=1e-6)
    assert 1 / shown("Pa", "us").factor == pytest.approx(6894.757, rel=1e-7)
    assert shown("Pa", "si").number(2.35e8) == "235 MPa"


@pytest.mark.parametrize(("unit", "value", "words"), [
    ("m", 1.41, "1.41 m"), ("m", 0.05, "0.05 m"), ("m", 0.0, "0 m"), ("m", -0.844, "−0.844 m"), ("m", 1234.0, "1234 m"),
    ("rad", np.pi, "180°"), ("1", 0.5, "0.5"), ("m", -1e-17, "0 m"),
])
def test_numbers(unit, value, words):
    assert shown(unit, "si").number(value) == words


def test_unknown_system():
    with pytest.raises(InputError):
        shown("m", "imperial")
