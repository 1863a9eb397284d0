from __future__ import annotations

import math
from typing import Any

import pytest

from armwright.describe import Material
from armwright.describe.material import NAMED, take_material
from armwright.errors import InputError


@pytest.mark.parametrize("name", NAMED)
def test_known_materials_hold_together(name: str) -> None:
    """E = 2 G (1 + nu) with Poisson's ratio of steel 0.3 and of aluminium 0.3 (EN 1993-1-1, EN 1999-1-1; memory), and
    the speed of sound in a bar, sqrt(E / rho), 5.1 to 5.2 km/s for both (handbook of physics, memory)."""
    material = Material(name)
    assert material.elastic_modulus / (2 * material.shear_modulus) - 1 == pytest.approx(0.3, abs=0.005)
    assert 5050 < math.sqrt(material.elastic_modulus / material.density) < 5250


def test_own_numbers_count_instead() -> None:
    told = Material("steel", yield_strength="355 MPa")
    assert told.yield_strength == 355e6 and told.elastic_modulus == 210e9 and told.assumptions == ()
    assert Material("aluminium").assumptions == ("aluminium taken as 6060-T66: yield 150 MPa",)
    own = Material("cast iron", "110 GPa")
    assert own.shear_modulus is None and own.weld_share is None and repr(own) == "Material 'cast iron': E 110 GPa"
    assert take_material("k", "steel") == Material() and take_material("k", own) is own


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({"name": "stel"}, 'Material.name: got "stel", expected one of steel, .*did you mean "steel"'),
        ({"name": "steel", "elastic_modulus": "210 N"}, "elastic_modulus: .*a unit of modulus"),
        ({"name": "steel", "yield_strength": "235 kg/mm^2"}, "yield_strength: .*did you mean kgf/mm"),
        ({"name": "steel", "yield_strength": math.nan}, "yield_strength: got nan"),
        ({"name": "steel", "yield_strength": 0}, "yield_strength: got 0"),
        ({"name": "steel", "shear_modulus": "210 GPa"}, "shear_modulus: got 210 GPa, expected half to a third"),
        ({"name": "steel", "weld_share": "120 %"}, "weld_share: "),
        ({"name": ""}, "name: "),
    ],
)
def test_refusals(arguments: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError, match=said):
        Material(**arguments)


@pytest.mark.parametrize("value", [None, 7, {"name": "steel"}, "Steel S 235"])
def test_no_material(value: Any) -> None:
    with pytest.raises(InputError, match=r"^k: "):
        take_material("k", value)
