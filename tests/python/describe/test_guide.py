# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

import math
from typing import Any

import pytest

from armwright.describe import Guide, RailBeam
from armwright.errors import InputError

GUIDE = {"rails": (-0.15, 0.15), "blocks": (-0.14, 0.14)}
BEAM = {"span": 0.6, "material": "steel", "second_moment": "31 cm^4"}


def test_places() -> None:
    guide = Guide(**GUIDE)
    assert guide.places.tolist() == [[-0.14, -0.15], [0.14, -0.15], [-0.14, 0.15], [0.14, 0.15]]
    assert guide.block_names == ("rail 1, block 1", "rail 1, block 2", "rail 2, block 1", "rail 2, block 2")
    each = Guide(("-150 mm", "150 mm"), (("-140, 140 mm"), 0.0))
    assert each.places.tolist() == [[-0.14, -0.15], [0.14, -0.15], [0, 0.15]]
    with pytest.raises(InputError, match="blocks: got 2 lists, expected one list for every rail, or 1 lists"):
        Guide(0, ("-140, 140 mm", 0.0))
    assert Guide(0, 0).places.tolist() == [[0, 0]]


def test_the_shorter_distance_counts_where_none_is_told() -> None:
    """ISO 14728-1 knows ratings for 50 km and for 100 km; C50 is the greater (memory)."""
    guide = Guide(**GUIDE, dynamic_rating="17 kN")
    assert guide.distance == 50e3 and any("50 km" in text for text in guide.assumptions)
    assert Guide(**GUIDE, rating_distance="100 km", lift_share=1, side_share=1, dynamic_rating=1).assumptions == ()
    assert Guide(**GUIDE).assumptions == (), "of what is not told nothing is assumed"


def test_a_beam() -> None:
    assert RailBeam(**BEAM).second_moment == pytest.approx(31e-8)
    tube = RailBeam(0.6, "aluminium 6082-T6", section="rectangular", outer=(0.04, 0.08), wall=0.003)
    assert tube.outer == (0.04, 0.08) and tube.assumptions == ("rail beam: no ends: simply supported",)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({"rails": []}, "rails: got 0 numbers, expected 1 to 8"),
        ({"rails": [0.1, 0.1]}, r"rails\[1\]: got 100 mm, expected another place"),
        ({"rails": [0.1, math.nan]}, "rails: "),
        ({"rails": "150,5 mm"}, "rails: .*no comma"),
        ({"rails": None}, "rails: "),
        ({"blocks": [0.1, 0.1]}, r"blocks\[1\]: got 100 mm, expected another place"),
        ({"blocks": [[0.1], [0.1], [0.1]]}, "blocks: got 3 lists, expected one list for every rail, or 2 lists"),
        ({"blocks": [[0.1, 0.1], [0.1]]}, r"blocks\[0\]\[1\]: got 100 mm"),
        ({"blocks": [[], [0.1]]}, r"blocks\[0\]: got 0 numbers"),
        ({"blocks": [["5 kg"], [0.1]]}, r"blocks\[0\]: .*a unit of length"),
        ({"height": math.inf}, "height: got inf"),
        ({"kind": "balls"}, 'kind: got "balls", .*did you mean "ball"'),
        ({"dynamic_rating": "17 kg"}, "dynamic_rating: .*did you mean kgf"),
        ({"rating_distance": "100 m"}, 'rating_distance: got "100 m", expected "50 km" or "100 km"'),
        ({"lift_share": 84}, "lift_share: got 84"),
        ({"roll_rating": "250 N"}, "roll_rating: "),
        ({"block_length": 0.3}, "block_length: got 300 mm, expected at most the distance of two blocks on a rail, 280 mm"),
        ({"preload": -1}, "preload: got -1"),
        ({"up": "over"}, 'up: got "over"'),
        ({"beam": 7}, "beam: got 7, expected a RailBeam"),
    ],
)
def test_a_guide_is_refused(arguments: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError, match=f"^Guide.{said}"):
        Guide(**(GUIDE | arguments))


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({"span": 0}, "span: got 0"),
        ({"material": None}, "material: got None"),
        ({"second_moment": None}, "second_moment: got nothing, expected second_moment, or section"),
        ({"second_moment": "31 cm^3"}, "second_moment: .*a unit of second moment of area"),
        ({"section": "square", "outer": 0.08, "wall": 0.004}, "second_moment: got second_moment besides section"),
        ({"outer": 0.08}, "outer: got outer without section"),
        ({"section": "square", "second_moment": None, "outer": 0.08}, "wall: "),
        ({"ends": "hinged"}, 'ends: got "hinged"'),
        ({"deflection_limit": 0}, "deflection_limit: got 0"),
    ],
)
def test_a_beam_is_refused(arguments: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError, match=f"^RailBeam.{said}"):
        RailBeam(**(BEAM | arguments))
