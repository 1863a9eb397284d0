"""The words about a base, and what they stand for."""

from __future__ import annotations

import armwright as aw
from armwright.results import summary
from armwright.studies import part_figures
from cases.bases import SQUARE, TILTED, square, studied


def test_reactions_bolts_checks_and_what_is_missing() -> None:
    base = aw.Base(square(preload=5e3), plate=(0.5, 0.5), allowed_pressure="10 kPa")
    words = summary(studied(base, [(0, 0, -4000, 0, 0, 0), TILTED], ("rest", "stop")))
    assert "stopping: presses with up to 4000 N" in words and "tilts with 5000 N·m (case stop)" in words
    assert "5250 N of tension at most, by the elastic group (case stop)" in words
    assert "joint: opening: safety 0.952, wanted 1.5: TOO LITTLE" in words
    assert "floor pressure: safety" in words and "TOO LITTLE (under the plate; case stop)" in words
    assert "not looked at: fatigue of the bolts" in words
    assert "to mind: prying of the plate" in words and "greatest pressure under the plate" in words
    assert "pulls off" not in words and "pulls off with 10 N" in summary(studied(base, (0, 0, 10, 0, 0, 0)))


def test_less_than_wanted_is_not_called_good() -> None:
    words = summary(studied(aw.Base(square(preload=6e3)), TILTED))
    assert "joint: opening: safety 1.14, wanted 1.5: LESS THAN WANTED" in words
    assert "bolt: proof stress: safety" in words and ": good" in words


def test_a_base_without_a_word() -> None:
    assert "no base is described" in summary(studied(None, TILTED))


def test_a_load_that_nothing_bears_is_called_unsafe() -> None:
    pair = aw.BoltPattern(positions=((0.0, 0.1), (0.0, -0.1)), size="M12", property_class="8.8")
    words = summary(studied(aw.Base(pair), (0, 0, 0, 0, 50, 0)))
    assert "bolt: proof stress: safety nan, wanted 1: NOT SAFE" in words and ": good" not in words


def test_feet_that_tip_over_have_no_pressure() -> None:
    cart = aw.Base(free_standing=True, stand_mass="60 kg", stand_centre=(0, 0, -0.3), stand_height=0.6, feet=SQUARE,
                   foot_area="50 cm^2", allowed_pressure="1 MPa")  # fmt: skip
    found = studied(cart, [(0, 0, -400, 0, 0, 0), (0, 0, -400, 2000, 0, 0)], ("rest", "stop"))
    assert "floor pressure: safety 0, wanted 1: TOO LITTLE (it tips over; case stop)" in summary(found)
    told = next(one for one in part_figures.base(found) if one.part == "floor pressure")
    assert told.safety == 0 and told.bears != told.bears and told.case == "it tips over; case stop"
    stands = studied(cart, (0, 0, -400, 0, 0, 0))
    told = next(one for one in part_figures.base(stands) if one.part == "floor pressure")
    assert round(told.bears) == 1_000_000 and told.case == "foot 1; case rest"
