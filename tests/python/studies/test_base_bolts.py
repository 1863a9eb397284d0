"""Bolts under told loads, worked by hand; the reference's figures stand in tests/outside/test_base.py."""

from __future__ import annotations

import math

import numpy as np
import pytest

import armwright as aw
from cases.bases import TILTED, mind, missing, rows, safety, square, studied

PLATE = (0.5, 0.5)
AREA = math.pi / 4 * (16 - 0.9382 * 2) ** 2 * 1e-6


def test_the_greater_method_counts_times_prying_and_says_where() -> None:
    base = aw.Base(square(prying_factor=1.2), plate=PLATE)
    pressed = (0, 0, -4000, 0, 0, 0)
    result = studied(base, [pressed, TILTED, pressed], ("rest", "stop"))
    tension = result["bolt_tension"].sel(bolt="bolt 3")
    assert tension[0] == pytest.approx(5250) and tension[1] == pytest.approx(4000 * 0.45 / 0.41)
    assert tension[2] == pytest.approx(4000 / 0.9)
    assert result["bolt_pull"].sel(bolt="bolt 3").item() == pytest.approx(1.2 * 5250)
    assert result["bolt_pull_method"].values[2] == "elastic group"
    assert result["bolt_pull_case"].values[2] == "case stop"
    assert result["bolt_pull_time"].values[2] == pytest.approx(0.1)
    np.testing.assert_allclose(result["worst_pull"], [1.2 * 4000 * 0.05 / 0.41, 1.2 * 4000 * 0.05 / 0.41, 6300, 6300])
    np.testing.assert_allclose(result["worst_moment"], [5000, 0, 0])
    assert "prying" not in mind(result)


def test_pivot_counts_where_it_is_the_greater() -> None:
    # no weight, a plate hardly larger than the pattern to one side: the lever shrinks
    base = aw.Base(square(), plate=(0.41, 0.41))
    result = studied(base, (0, 0, 2000, 100, 0, 0))
    assert result["bolt_pull"].max() == pytest.approx(500 + 100 * 0.2 / 0.16)
    lone = aw.Base(aw.BoltPattern(positions=((0.0, 0.1), (0.0, -0.1))), plate=PLATE)
    result = studied(lone, (0, 0, 0, 0, 100, 0))  # about the line of the bolts: the plate's edge alone bears it
    assert result["bolt_pull"].max() == pytest.approx(100 / (2 * 0.25))
    assert result["bolt_pull_method"].values[0].startswith("pivot")
    assert "bolts in one line" in mind(result)


def test_grip() -> None:
    load = (3000.0, 0, 2000, 0, 0, 0)
    base = aw.Base(square(preload=60e3), friction=0.15)
    result = studied(base, load)
    assert safety(result, "joint: slip") == pytest.approx(0.15 * (4 * 60e3 - 2000) / 3000, rel=2e-3)
    assert safety(result, "joint: opening") == pytest.approx(60e3 / 500)
    assert np.hypot(*result["worst_shear"].values[0]) == pytest.approx(750)
    assert "friction" not in missing(result)
    assert "no preload is told" in missing(studied(aw.Base(square(), friction=0.15), load))
    assert "no coefficient of friction" in missing(studied(aw.Base(square(preload=60e3)), load))
    assert "joint: slip" not in studied(aw.Base(square(preload=60e3)), load)["check"]


def test_strength_by_class() -> None:
    load = (3000.0, 0, 8000, 0, 0, 0)
    result = studied(aw.Base(square(preload=60e3)), load, load_share=0.25)
    stress, shear = (60e3 + 500) / AREA, 750 / AREA
    assert safety(result, "bolt: proof stress") == pytest.approx(580e6 / math.sqrt(stress**2 + 3 * shear**2))
    assert safety(result, "bolt: load factor") == pytest.approx(min((580e6 * AREA - 60e3) / 500, 580e6 * AREA / 2000))
    strength = 800e6 * AREA / 1.25
    assert safety(result, "bolt: tension and shear") == pytest.approx(
        1 / (750 / (0.6 * strength) + 2000 / (1.4 * 0.9 * strength)))  # fmt: skip
    assert "share of the tension" not in mind(result)
    assert "share of the tension" in mind(studied(aw.Base(square(preload=60e3)), load))
    assert "% of proof load" in mind(studied(aw.Base(square(preload=89e3)), load))


def test_what_a_class_or_a_size_lacks_is_named() -> None:
    load = (0, 0, 8000.0, 0, 0, 0)
    assert "beyond ISO 898-1" in mind(studied(aw.Base(square(size="M20", property_class="9.8")), load))
    assert "not in EN 1993-1-8" in mind(studied(aw.Base(square(property_class="12.9")), load))
    bare = studied(aw.Base(square(size=None)), load)
    assert "no size is told" in missing(bare) and bare.sizes["check"] == 0
    assert "no property class or proof strength" in missing(studied(aw.Base(square(property_class=None)), load))
    by_area = aw.Base(square(size=None, property_class=None, proof_strength="210 MPa", stress_area="157 mm^2"))
    result = studied(by_area, load)
    assert safety(result, "bolt: proof stress") == pytest.approx(210e6 * 157e-6 / 2000)
    assert "no property class is told" in missing(result)
    unsized = studied(aw.Base(square(size=None, stress_area="157 mm^2")), load)
    assert "some classes depend on it" in missing(unsized)
    assert "prying" in mind(result) and "fatigue" in missing(result)


def test_a_moment_that_nothing_bears_is_not_safe() -> None:
    base = aw.Base(aw.BoltPattern(positions=((0.0, 0.1), (0.0, -0.1)), size="M12", property_class="8.8"))
    result = studied(base, [(0, 0, -10, 0, 50, 0), (0, 0, 100, 0, 0, 0)], rows=rows(2))
    assert "in 1 of 2 rows: neither method" in missing(result)
    for name in ("bolt: proof stress", "bolt: load factor", "bolt: tension and shear"):
        assert np.isnan(safety(result, name))
    assert result["bolt_pull"].values[0] == pytest.approx(50)


def test_limits_told_of_an_anchor() -> None:
    load = (3000.0, 0, 8000, 0, 0, 0)
    anchor = square(size=None, property_class=None, allowed_tension="10 kN", allowed_shear="5 kN")
    result = studied(aw.Base(anchor), load)
    assert safety(result, "bolt: told limits") == pytest.approx(1 / (2000 / 10e3 + 750 / 5e3))
    assert "approval" in result["check_basis"].sel(check="bolt: told limits").item()
    half = studied(aw.Base(square(allowed_tension="10 kN")), load)
    assert safety(half, "bolt: told limits") == pytest.approx(5)
    assert "allowed_shear of a bolt is not told" in missing(half)


def test_a_torsion_that_a_single_bolt_does_not_bear_is_named() -> None:
    base = aw.Base(aw.BoltPattern(positions=((0.1, 0.0),), size="M12", property_class="8.8"), plate=0.4)
    turned = [(0.0, 100, -50, 0, 0, 10), (0.0, 100, -50, 0, 0, 12)]  # 100 N at 0.1 m are 10 N m
    result = studied(base, turned, rows=rows(2))
    assert "shear of the bolts in 1 of 2 rows: a single bolt bears no torsion" in missing(result)
    assert np.isnan(safety(result, "bolt: proof stress"))
    assert "torsion" not in missing(studied(base, turned[:1]))
