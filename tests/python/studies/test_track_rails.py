"""Rails that bend between their supports: by hand on an arm of one upright axis."""

from __future__ import annotations

import numpy as np
import pytest

import armwright as aw
from armwright.results import summary
from cases.railed_cells import CARRIAGE, SWUNG, WIDE, G, guide, rows, swinging

MASS = CARRIAGE + SWUNG


def test_rails_between_supports() -> None:
    """One block on each rail, so that each rail bears half the weight, and the arm's to its side."""
    beam = aw.RailBeam(0.5, "steel", second_moment=2e-8, section_modulus=1.5e-6, deflection_limit=0.5e-3)
    told = guide(blocks=(0.0,), pitch_rating=500.0, yaw_rating=500.0, beam=beam)
    out = swinging(told).track_loads(rows=rows([0.5, np.pi / 2]))
    more = MASS * G / 2 + SWUNG * G * 0.8 / WIDE
    stiffness = 210e9 * 2e-8
    left = out.isel(rail=1)
    assert left.rail_deflection.sel(support="simple").item() == pytest.approx(more * 0.5**3 / (48 * stiffness))
    assert left.rail_deflection.sel(support="fixed").item() == pytest.approx(more * 0.5**3 / (192 * stiffness))
    assert left.rail_moment.sel(support="simple").item() == pytest.approx(more * 0.5 / 4)
    assert left.rail_stress.sel(support="simple").item() == pytest.approx(more * 0.5 / 4 / 1.5e-6)
    between = left.rail_deflection.sel(support="continuous").item()
    # the end span of a long row is the worst: about 0.0151 P L³/E I near its middle, less than a simple span's 0.0208
    assert 0.0145 < between * stiffness / (more * 0.5**3) < 0.0155
    assert out.attrs["rail_support"] == "simple"
    assert "rail 2: bends by" in out.attrs["warnings"] and "rail 2 bends most" in summary(out)
    pipe = aw.RailBeam(0.5, "steel", section="rectangular", outer=(0.04, 0.06), wall=0.004)
    piped = swinging(guide(beam=pipe)).track_loads(rows=rows([0.5, np.pi / 2]))
    second = (0.04 * 0.06**3 - 0.032 * 0.052**3) / 12
    ratio = piped.rail_moment.values / piped.rail_stress.values
    np.testing.assert_allclose(np.abs(ratio), second / 0.03)
    assert "no deflection limit" in piped.attrs["missing"]


def test_which_spans_count_is_as_told() -> None:
    """Built in at both ends it bends a quarter as far as a simple span, within what is allowed."""
    for ends, words in (("simple", True), ("fixed", False)):
        beam = aw.RailBeam(0.5, "steel", second_moment=2e-8, ends=ends, deflection_limit=0.1e-3)
        told = guide(blocks=(0.0,), pitch_rating=500.0, yaw_rating=500.0, beam=beam)
        out = swinging(told).track_loads(rows=rows([0.5, 0.0]))
        assert out.attrs["rail_support"] == ends
        assert ("bends by" in out.attrs["warnings"]) is words
        assert np.isnan(out.rail_stress.values).all() and "no section modulus" in out.attrs["missing"]
