# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

import math
from typing import Any

import pytest

from armwright.describe import BeltFeed, RackFeed, ScrewFeed
from armwright.errors import InputError


def test_a_pinion() -> None:
    """Pitch radius: m z / 2, straight; m z / (2 cos beta), helical (every textbook on gears)."""
    assert RackFeed("2 mm", 20).radius() == pytest.approx(0.02)
    helical = RackFeed("2 mm", 20, helix="19.5283 deg")
    assert helical.radius() == pytest.approx(0.0212207, rel=1e-5)  # 40 mm / (2 cos 19.5283 deg), cos = 0.942478
    assert helical.teeth_at(0.0212207) == pytest.approx(20, rel=1e-5)
    assert RackFeed("2 mm").radius() is None and RackFeed("2 mm").numbers == {"pressure_angle": math.radians(20), "helix": 0}
    assert RackFeed("2 mm").assumptions == ("rack: no pressure angle: 20 deg", "rack: no helix: straight teeth")


@pytest.mark.parametrize(
    ("kind", "arguments", "said"),
    [
        (RackFeed, {"module": 0}, "RackFeed.module: got 0"),
        (RackFeed, {"module": "2"}, 'RackFeed.module: .*did you mean "2 mm"'),
        (RackFeed, {"module": 0.002, "teeth": 20.5}, "RackFeed.teeth: got 20.5, expected a whole number of teeth"),
        (RackFeed, {"module": 0.002, "pressure_angle": "200 deg"}, "RackFeed.pressure_angle: "),
        (RackFeed, {"module": 0.002, "helix": -0.3}, "RackFeed.helix: got -0.3"),
        (RackFeed, {"module": 0.002, "allowed_force": "3 kg"}, "RackFeed.allowed_force: .*did you mean kgf"),
        (RackFeed, {"module": 0.002, "allowed_stress": math.nan}, "RackFeed.allowed_stress: got nan"),
        (RackFeed, {"module": 0.002, "height": math.inf}, "RackFeed.height: got inf"),
        (BeltFeed, {"allowed_force": 900, "preload": 900}, "BeltFeed.preload: got 900 N, expected less than the allowed force"),
        (BeltFeed, {"specific_stiffness": "900 kN/m"}, "BeltFeed.specific_stiffness: .*a unit of force"),
        (BeltFeed, {"length": 0}, "BeltFeed.length: got 0"),
        (ScrewFeed, {"root_diameter": 2, "length": 0.021}, "ScrewFeed.root_diameter: got 2000 mm, expected less than the length, 21 mm"),
        (ScrewFeed, {"ends": "fixed, fre"}, 'ScrewFeed.ends: .*did you mean "fixed, free"'),
        (ScrewFeed, {"max_speed": "50 Hz"}, "ScrewFeed.max_speed: .*did you mean turn/s"),
        (ScrewFeed, {"material": "stel"}, 'ScrewFeed.material: .*did you mean "steel"'),
    ],
)
def test_refusals(kind: type, arguments: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError, match=f"^{said}"):
        kind(**arguments)
