"""Zones against what shapely-free geometry knows: areas, even-odd by hand, and triangles that tile."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from armwright.designs.placement.zones import crossed, inside, prisms, take_zones, triangles
from armwright.errors import InputError

HOOK = [(0, 0), (3, 0), (3, 2), (2, 2), (2, 1), (1, 1), (1, 3), (0, 3)]  # not convex, area 3 + 1 + 2 = 6


def area(corners: Any) -> float:
    x, y = np.array(corners).T
    return 0.5 * float(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)))


def test_a_box_by_two_corners_and_a_polygon_either_way_round() -> None:
    box, hook, back = take_zones({"a": ((2, 1), ("0 m", "50 cm")), "b": HOOK, "c": HOOK[::-1]})
    assert area(box.corners) == pytest.approx(1.0)
    assert area(hook.corners) == area(back.corners) == pytest.approx(6.0)
    assert [zone.name for zone in take_zones([HOOK, ((0, 0), (1, 1))])] == ["zone 1", "zone 2"]
    assert take_zones(None) == ()


def test_inside() -> None:
    zones = take_zones({"hook": HOOK})
    points = np.array([(0.5, 2.5), (1.5, 2.5), (2.5, 1.5), (1.5, 0.5), (4, 1), (1.5, 1.0), (0.0, 1.0), (3.0, 1.0)])
    assert inside(zones, points).tolist() == [True, False, True, True, False, False, False, False]


def test_a_stretch_through_a_corner_piece_is_seen() -> None:
    zones = take_zones({"box": ((0, 0), (1, 1))})
    first, last = (
        np.array([(-1, 0.2), (-1, -0.5), (2, 2), (-1, 0.0)]),
        np.array([(3, 0.3), (3, -0.5), (3, 3), (2, 0.0)]),
    )
    assert crossed(zones, first, last).tolist() == [True, False, False, False]


def test_triangles_tile_any_polygon() -> None:
    rng = np.random.default_rng(2)
    stars = []
    for count in (3, 4, 7, 12):
        angles = np.sort(rng.uniform(0, 2 * np.pi, count))
        stars.append(np.stack([np.cos(angles), np.sin(angles)], 1) * rng.uniform(0.2, 1, (count, 1)))
    for corners in [np.array(HOOK, float), *stars]:
        if area(corners) < 0.02:
            continue
        parts = triangles(corners)
        assert len(parts) == len(corners) - 2
        assert all(area(part) > 0 for part in parts)
        assert sum(area(part) for part in parts) == pytest.approx(area(corners))


def test_prisms_stand_upright_beyond_all_heights() -> None:
    (spec, *more) = prisms(take_zones({"box": ((0, 0), (1, 1))}), 0.5, 2.0)
    assert spec.name == "box" and len(more) == 1


@pytest.mark.parametrize(
    ("zones", "words"),
    [
        ("walkway", "zones, as"),
        ({"a": "everywhere"}, "zones, as"),
        ({"a": [(0, 0)]}, "two corners of a box"),
        ({"a": [(0, 0), (1, 0), (2, 0)]}, "enclose an area"),
        ({"a": [(0, 0), (0, 1)]}, "enclose an area"),
        ({"a": [(0, 0), (2, 2), (2, 0), (0, 1.5)]}, "cross each other"),
        ({"a": [(0, 0), (1, "left")]}, "forbidden"),
    ],
)  # fmt: skip
def test_refused(zones: Any, words: str) -> None:
    with pytest.raises(InputError, match=words):
        take_zones(zones)
