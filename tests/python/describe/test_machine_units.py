from __future__ import annotations

import pytest

from armwright.describe import machine_units as units
from armwright.describe.units import Kind
from armwright.errors import InputError


@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [  # 1 psi = 6894.757 Pa; 1 in = 25.4 mm (NIST SP 811)
        (units.STRESS, "235 MPa", 235e6), (units.STRESS, "235 N/mm^2", 235e6), (units.STRESS, "36 ksi", 248.211e6),
        (units.PRESSURE, "1 bar", 1e5), (units.PRESSURE, "1 kgf/cm^2", 98066.5), (units.ELASTIC, "210 GPa", 210e9),
        (units.DENSITY, "7.85 g/cm^3", 7850), (units.AREA, "157 mm2", 157e-6), (units.AREA, "1 in^2", 6.4516e-4),
        (units.SECTION_MODULUS, "24 cm3", 24e-6), (units.SECOND_MOMENT, "84 cm^4", 84e-8),
        (units.SECOND_MOMENT, "84 cm4", 84e-8), (units.DIRECTION_SHARE, "84 %", 0.84),
    ],
)  # fmt: skip
def test_units(kind: Kind, text: str, value: float) -> None:
    assert kind.si_value("k", text) == pytest.approx(value, rel=1e-5)


@pytest.mark.parametrize(
    ("kind", "text", "said"),
    [
        (units.STRESS, "24 kg/mm^2", r"did you mean kgf/mm\^2"),
        (units.STRESS, "235 J/m^3", "a unit of stress"),
        (units.STRESS, "235 N", r"did you mean N/mm\^2"),
        (units.PRESSURE, "0 kPa", "more than 0 Pa"),
        (units.SECOND_MOMENT, "84 cm^3", "a unit of second moment of area"),
        (units.SECTION_MODULUS, "84 cm^4", "a unit of section modulus"),
        (units.AREA, "157", 'did you mean "157 mm'),
        (units.DENSITY, "7850 kg", "a unit of density"),
        (units.PRYING, "0.5", "a factor of 1 or more"),
        (units.TEETH, "20.5", "a whole number of teeth"),
    ],
)
def test_refusals(kind: Kind, text: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        kind.si_value("k", text)
