"""Results about many designs in plain words."""

from __future__ import annotations

import pytest

import armwright as aw
from armwright.results import summary
from armwright.results.design_summary import causes_of
from cases.designs import held_at, level_cell

FORE, TORQUE = "arm.links[forearm].mass", "arm.joints[axis 3].torque_continuous"
FAR = aw.ask.payload("far")


def test_a_sweep_tells_the_span_and_the_best_design():
    words = summary(level_cell().sweep({FORE: [2.0, 4.0]}, FAR))
    low, high = held_at(1.0, masses=(8, 4)), held_at(1.0, masses=(8, 2))
    assert f"payload at far: {low:.4g} to {high:.4g} kg, best {high:.4g} kg at {FORE} = 2 kg" in words
    cost = aw.Answer("mass", "kg", lambda cell: cell.description.arm.mass, "less")
    assert "mass: 10 to 12 kg, best 10 kg" in summary(level_cell().sweep({FORE: [2.0, 4.0]}, cost))
    lost = summary(level_cell().sweep({"arm.links[upper arm].length": [0.3]}, FAR))
    assert "no design has an answer (far: out of reach" in lost


def test_numbers_stand_in_the_units_that_were_asked_for():
    """A pound is 0.45359237 kg and a turn of 10 degrees is told as such, though results are in SI."""
    swept = level_cell().sweep({FORE: ["1 lb", "4 lb"]}, FAR)
    assert f" lb at {FORE} = 1 lb" in summary(swept, "us")
    sine = aw.Answer("sine", "1", lambda cell: cell.description.mount[1, 0])
    turned = level_cell().sweep({"mount.yaw": ["0 deg", "10 deg"]}, sine)
    assert "best 0.1736 at mount.yaw = 10°" in summary(turned)
    changed = level_cell().changes(["mount.yaw"], (), sine)
    assert "° more of mount.yaw: " in summary(changed) and "rad" not in summary(changed)


def test_changes_tell_the_best_first():
    others = [aw.Alternative({TORQUE: 56}, 100, "stronger"), aw.Alternative({TORQUE: 50}, 10, "weaker")]
    words = summary(level_cell().changes([FORE, TORQUE], others, FAR, currency="EUR"))
    assert words.index(f"5.5 N*m more of {TORQUE}") < words.index(f"0.3 kg less of {FORE}: 0.15 kg better")
    value = held_at(1.0, torques=(160, 56))
    assert f"stronger for 100 EUR: payload at far {value:.4g} kg, {value - held_at(1.0):.3g} kg better" in words
    assert "weaker for" not in words and "1 of 2 alternatives gain nothing" in words


def test_uncertainty_tells_bands_and_causes():
    result = level_cell().uncertainty(FAR, {FORE: "10 %", TORQUE: "1 %"}, samples=16)
    words = summary(result)
    assert "by derivatives" in words and "sampled" in words and "caused by" in words
    causes = causes_of(result.isel(answer=0))
    assert [name for name, _ in causes] == [FORE, TORQUE]
    assert sum(share for _, share in causes) == pytest.approx(1)
    assert causes_of(result.isel(answer=0), most=1) == causes[:1]
