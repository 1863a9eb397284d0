# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from armwright.describe import BoltPattern
from armwright.describe.bolts import COARSE, take_size
from armwright.errors import InputError
from cases.borne import BOLTS

# Stress areas of ISO 898-1, mm², by size (memory; Shigley's table of metric threads has the same).
STRESS_AREAS = {"M5": 14.2, "M6": 20.1, "M8": 36.6, "M10": 58.0, "M12": 84.3, "M16": 157, "M20": 245, "M24": 353, "M30": 561,
                "M36": 817}  # fmt: skip


@pytest.mark.parametrize("size", STRESS_AREAS)
def test_pitches_make_the_stress_areas_of_the_table(size: str) -> None:
    """A = pi / 4 (d - 0.9382 P)² (ISO 898-1)."""
    bolts = BoltPattern([(0, 0)], size=size)
    assert bolts.diameter is not None and bolts.pitch is not None
    area = math.pi / 4 * (1000 * bolts.diameter - 0.9382 * 1000 * bolts.pitch) ** 2
    assert area == pytest.approx(STRESS_AREAS[size], rel=5e-3)


def test_a_fine_thread() -> None:
    bolts = BoltPattern([(0, 0)], size="M16 x 1.50")
    assert (bolts.size, bolts.diameter, bolts.pitch) == ("M16x1.5", 0.016, 0.0015)
    assert [take_size("k", size) for size in COARSE] == list(COARSE)


def test_places_on_a_circle() -> None:
    points = BOLTS.points
    assert points.shape == (8, 2) and np.hypot(*points.T) == pytest.approx(np.full(8, 0.125))
    assert points.sum(axis=0) == pytest.approx((0, 0), abs=1e-15)
    turned = BoltPattern(circle_diameter=0.25, count=4, first_angle="45 deg", centre=(0.1, 0))
    assert turned.points[0] == pytest.approx((0.1 + 0.125 / math.sqrt(2), 0.125 / math.sqrt(2)))
    assert BoltPattern([("100 mm", 0), "0, 100 mm"]).points.tolist() == [[0.1, 0], [0, 0.1]]


def test_prying() -> None:
    assert BOLTS.prying == 1 and BOLTS.assumptions == ("bolts: no prying factor: 1",)
    told = BoltPattern([(0, 0)], prying_factor=1.3)
    assert told.prying == 1.3 and told.assumptions == ()


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({"positions": None}, "circle_diameter: got nothing, expected positions, or circle_diameter and count"),
        ({"positions": None, "circle_diameter": 0.2}, "count: got nothing"),
        ({"circle_diameter": 0.2}, "circle_diameter: got circle_diameter besides positions"),
        ({"first_angle": 0.2}, "first_angle: got first_angle besides positions"),
        ({"positions": []}, "positions: "),
        ({"positions": [(0, 0), (0, 0)]}, r"positions\[1\]: got \[0.0, 0.0\], expected another place"),
        ({"positions": [(0, 0), (0, math.nan)]}, r"positions\[1\]: "),
        ({"positions": [(0, 0, 0)]}, r"positions\[0\]: "),
        ({"positions": "0, 0"}, "positions: "),
        ({"positions": None, "circle_diameter": -0.2, "count": 8}, "circle_diameter: got -0.2"),
        ({"positions": None, "circle_diameter": 0.2, "count": 7.5}, "count: got 7.5, expected a whole number of bolts"),
        ({"positions": None, "circle_diameter": 0.2, "count": 0}, "count: got 0"),
        ({"size": "M15"}, 'size: got "M15", expected a metric thread'),
        ({"size": "m16"}, 'size: got "m16", .*did you mean "M16"'),
        ({"size": "16 mm"}, "size: got "),
        ({"size": 16}, 'size: got 16, .*did you mean "M16"'),
        ({"size": "M16x3"}, "size: got .*a pitch up to the coarse one, 2 mm"),
        ({"property_class": "8.9"}, 'property_class: got "8.9", .*did you mean "8.8"'),
        ({"property_class": 8.8}, 'property_class: got 8.8, .*did you mean "8.8"'),
        ({"property_class": "8.8", "proof_strength": 4e8}, "proof_strength: got a proof strength besides"),
        ({"preload": "35 kN*m"}, "preload: .*a unit of force"),
        ({"preload": 0}, "preload: got 0"),
        ({"prying_factor": 0.9}, "prying_factor: got 0.9, expected a factor of 1 or more"),
        ({"stress_area": "157 mm"}, "stress_area: .*a unit of area"),
        ({"allowed_shear": -3}, "allowed_shear: got -3"),
    ],
)
def test_refusals(arguments: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError, match=f"^BoltPattern.{said}"):
        BoltPattern(**({"positions": [(0.1, 0), (-0.1, 0)]} | arguments))
