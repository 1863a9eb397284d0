from __future__ import annotations

import math
from typing import Any

import pytest

from armwright.describe import Supply
from armwright.errors import InputError


def test_supply() -> None:
    supply = Supply("230 V", branch_current="16 A", power_factor=0.65, efficiency=0.95, standby_power="40 W",
                    capacitance="1500 uF", resistance="47 ohm", braking_voltage=380, greatest_voltage=410)  # fmt: skip
    assert supply.bus_voltage == pytest.approx(230 * math.sqrt(2))
    assert supply.assumptions == ()
    assert repr(supply) == "Supply: 230 V, 1 phase, branch circuit 16 A"
    bare = Supply(400, 3)
    assert bare.numbers == {"power_factor": 0.9, "efficiency": 0.95, "standby_power": 0}
    assert len(bare.assumptions) == 4 and bare.assumptions[0].startswith("supply: no power factor: 0.9 taken")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({"voltage": 0}, "Supply.voltage: got 0"),
        ({"voltage": 230, "phases": 2}, "Supply.phases: got 2, expected 1 or 3"),
        ({"voltage": 230, "phases": True}, "Supply.phases"),
        ({"voltage": 230, "power_factor": 1.2}, "Supply.power_factor: got 1.2"),
        ({"voltage": 230, "braking_voltage": 300}, "braking_voltage: got 300 V, expected more than the bus at rest"),
        ({"voltage": 230, "braking_voltage": 380, "greatest_voltage": 370}, "greatest_voltage: got 370 V"),
        ({"voltage": 230, "resistance": 47}, "Supply.braking_voltage: got nothing"),
        ({"voltage": 230, "resistor_power": 47}, "Supply.resistance: got nothing"),
        ({"voltage": 230, "capacitance": "1500 MFD"}, "did you mean uF"),
    ],
)
def test_refusals(arguments: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError, match=said):
        Supply(**arguments)
