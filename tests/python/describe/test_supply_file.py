from __future__ import annotations

from pathlib import Path

import pytest

from armwright.describe import load_cell
from armwright.errors import InputError
from cases.description_files import CELL, write_cell

SUPPLY = """
[supply]
voltage = "230 V"
branch_current = "16 A"
capacitance = "1500 uF"
resistance = "47 ohm"
braking_voltage = "380 V"
"""


def test_supply(tmp_path: Path) -> None:
    cell = load_cell(write_cell(tmp_path, cell=CELL + SUPPLY))
    assert cell.supply is not None
    assert (cell.supply.branch_current, cell.supply.capacitance, cell.supply.phases) == (16, 1.5e-3, 1)
    assert cell.digest() != load_cell(write_cell(tmp_path)).digest()


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"380 V"', '"300 V"', "supply.braking_voltage: got 300 V, expected more than the bus at rest"),
        ('"16 A"', '"16 Arms"', r"supply.branch_current: .*did you mean A"),
        ('voltage = "230 V"', 'voltage = "230 V"\nphases = 2', "supply.phases: got 2"),
        ("capacitance", "capacity", "supply.capacity: got an unknown key .*did you mean capacitance"),
    ],
)
def test_refusals(tmp_path: Path, old: str, new: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        load_cell(write_cell(tmp_path, cell=CELL + SUPPLY.replace(old, new)))
