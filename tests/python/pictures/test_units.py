"""The pound and the inch are exact (international yard and pound agreement, 1959; also in NIST SP 811)."""

import numpy as np
import pytest

from armwright.errors import InputError
from armwright.pictures.units import shown


def test_factors():
    assert shown("m", "us").factor * 0.0254 == pytest.approx(1, rel=1e-15)
    assert shown("kg", "us").factor * 0.45359237 == pytest.approx(1, rel=1e-15)
    assert shown("rad", "si").factor * np.pi == pytest.approx(180, rel=1e-15)
    assert shown("m3", "us").factor == pytest.approx(35.3147, rel=1e-6)


@pytest.mark.parametrize(("unit", "value", "words"), [
    ("m", 1.41, "1.41 m"), ("m", 0.05, "0.05 m"), ("m", 0.0, "0 m"), ("m", -0.844, "−0.844 m"), ("m", 1234.0, "1234 m"),
    ("rad", np.pi, "180°"), ("1", 0.5, "0.5"), ("m", -1e-17, "0 m"),
])
def test_numbers(unit, value, words):
    assert shown(unit, "si").number(value) == words


def test_unknown_system():
    with pytest.raises(InputError):
        shown("m", "imperial")
