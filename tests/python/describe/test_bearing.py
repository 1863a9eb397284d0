# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from armwright.describe import BearingPair, Joint, SlewingBearing
from armwright.errors import InputError
from cases.borne import BACK_TO_BACK, SLEWING


def test_units() -> None:
    """A minute of arc is pi / 10 800 rad."""
    assert SLEWING.pitch_diameter == pytest.approx(0.12) and SLEWING.dynamic_rating == 22e3
    assert SLEWING.tilting_stiffness == pytest.approx(180 * 10800 / math.pi)
    assert SlewingBearing("four point", "120 mm ± 0.5 mm").pitch_diameter.tolerance == pytest.approx(5e-4)
    assert SlewingBearing("four point").static_rating is None


@pytest.mark.parametrize(
    ("arrangement", "span"), [("back to back", 0.06 + 2 * 0.011), ("face to face", 0.06 - 2 * 0.011)]
)
def test_pressure_centres_are_outside_back_to_back_and_inside_face_to_face(arrangement: str, span: float) -> None:
    """As every bearing catalogue draws the two arrangements (common knowledge of the trade)."""
    pair = replace(BACK_TO_BACK, arrangement=arrangement)
    assert pair.effective_span == pytest.approx(span)
    assert pair.places == pytest.approx((0.01 - span / 2, 0.01 + span / 2))


def test_one_rating_holds_for_both() -> None:
    assert BACK_TO_BACK.dynamic_ratings == (14e3, 12e3) and BACK_TO_BACK.static_ratings == (9e3, 9e3)
    bare = BearingPair("deep groove", "fixed and floating", fixed="far")
    assert (bare.dynamic_ratings, bare.effective_span, bare.places) == (None, None, None)


def test_assumptions() -> None:
    assert SLEWING.assumptions == (
        "bearing: factors of the equivalent loads as for two rows at a contact angle of 45°, usual for the kind",
    )
    assert BACK_TO_BACK.assumptions == ()
    pair = BearingPair("tapered", "face to face", 0.05)
    assert pair.assumptions == (
        "bearing pair: no moved ring: of an axial push the worse way counts", "bearing pair: no preload: 0 N",
        "bearing pair: no pressure centre: the span is taken as that between the pressure centres",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({"kind": "cross roller"}, 'kind: got "cross roller", .*did you mean "crossed roller"'),
        ({"dynamic_rating": 0}, "dynamic_rating: got 0, expected a force"),
        ({"dynamic_rating": math.nan}, "dynamic_rating: got nan"),
        ({"dynamic_rating": math.inf}, "dynamic_rating: got inf"),
        ({"dynamic_rating": "22 kg"}, "dynamic_rating: .*did you mean kgf"),
        ({"static_rating": "4,1 kN"}, 'static_rating: .*no comma .*did you mean "4.1 kN"'),
        ({"dynamic_rating": ("1 kN", "2 kN")}, "dynamic_rating: "),
        ({"pitch_diameter": "-120 mm"}, "pitch_diameter: "),
        ({"pitch_diameter": "120"}, 'pitch_diameter: .*did you mean "120 mm"'),
        ({"offset": math.nan}, "offset: got nan"),
        ({"tilting_stiffness": "180 N*m"}, "tilting_stiffness: .*did you mean N\\*m/rad"),
        ({"factor_x": 1}, "factor_y: got nothing, expected this key beside factor_x"),
        ({"static_factor_y": 0.44}, "static_factor_x: got nothing"),
        ({"factor_x": -1, "factor_y": 1}, "factor_x: got -1, expected a factor of more than 0"),
        ({"factor_x": 0, "factor_y": 1}, "factor_x: got 0, expected a factor of more than 0"),
        ({"static_factor_x": 1, "static_factor_y": 0}, "static_factor_y: got 0, expected a factor of more than 0"),
        ({"roller_count": 38.5}, "roller_count: got 38.5, expected a whole number"),
        ({"limit_line": [(0, 900)]}, "limit_line: "),
        ({"limit_line": [(0, 900), (0, 400)]}, r"limit_line\[1\]\[0\]: got 0 N, expected more than 0 N"),
        ({"limit_line": [(0, 0), (10, 0)]}, "limit_line: got no moment above 0"),
        ({"limit_line": [(0, 900), 7]}, r"limit_line\[1\]: got 7"),
        ({"limit_line": "0, 900"}, "limit_line: "),
        ({"name": ""}, "name: "),
    ],
)
def test_a_slewing_bearing_is_refused(arguments: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError, match=f"^SlewingBearing.{said}"):
        SlewingBearing(**({"kind": "crossed roller"} | arguments))


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({"kind": "taper"}, 'kind: got "taper", .*did you mean "tapered"'),
        ({"arrangement": "back-to-back"}, 'arrangement: .*did you mean "back to back"'),
        ({"span": 0}, "span: got 0"),
        ({"span": math.nan}, "span: got nan"),
        ({"dynamic_rating": (1e3, 2e3, 3e3)}, "dynamic_rating: "),
        ({"dynamic_rating": ("14 kN", "12 mm")}, "dynamic_rating: .*a unit of force"),
        ({"arrangement": "face to face", "span": 0.05, "pressure_centre": 0.03}, "span: got 50 mm, expected more than twice the pressure_centre"),
        ({"arrangement": "fixed and floating", "fixed": "near"}, "arrangement: .* one way alone"),
        ({"kind": "deep groove", "arrangement": "fixed and floating"}, "fixed: got nothing"),
        ({"kind": "deep groove", "arrangement": "fixed and floating", "fixed": "left"}, 'fixed: got "left"'),
        ({"fixed": "near"}, 'fixed: got "near", expected no fixed'),
        ({"kind": "deep groove", "arrangement": "fixed and floating", "fixed": "far", "preload": 300}, "preload: got 300 N, expected no preload: the floating"),
        ({"kind": "deep groove", "contact_angle": 0.4}, "contact_angle: .* a deep groove bearing has none"),
        ({"kind": "deep groove", "pressure_centre": 0.01}, "pressure_centre: .* a deep groove bearing has none"),
        ({"factor_f0": 14}, "factor_f0: .*only a deep groove"),
        ({"factor_e": 0.8}, "factor_x: got nothing, expected this key beside factor_e"),
        ({"contact_angle": "30"}, 'contact_angle: .*did you mean "30 deg"'),
        ({"contact_angle": "95 deg"}, "contact_angle: "),
        ({"moved_ring": "outside"}, "moved_ring: got \"outside\""),
        ({"preload": -1}, "preload: got -1"),
        ({"ball_count": 2}, "ball_count: got 2"),
    ],
)
def test_a_pair_is_refused(arguments: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError, match=f"^BearingPair.{said}"):
        BearingPair(**({"kind": "angular contact", "arrangement": "back to back"} | arguments))


def test_a_deep_groove_pair_without_preload_says_so() -> None:
    assert "bearing pair: no preload: 0 N" in BearingPair("deep groove", "back to back", 0.1).assumptions
    assert BearingPair("deep groove", "fixed and floating", 0.1, fixed="near").assumptions == ()


def test_on_a_joint() -> None:
    assert Joint(bearing=SLEWING).bearing is SLEWING and Joint(bearing=SLEWING) != Joint()
    with pytest.raises(InputError, match=r"Joint.bearing: got .*, expected none: the bearings here"):
        Joint(kind="prismatic", range=(0, 1), bearing=SLEWING)
    with pytest.raises(InputError, match=r'Joint.bearing: got "crossed roller", expected a SlewingBearing'):
        Joint(bearing="crossed roller")  # type: ignore[arg-type]


def test_reprs() -> None:
    assert repr(SLEWING) == "SlewingBearing 'bearing': crossed roller, C 22 kN, C0 41 kN"
    assert repr(BACK_TO_BACK) == "BearingPair 'bearing pair': angular contact, back to back, span 60 mm, C 14 and 12 kN, C0 9 kN"
    assert repr(SlewingBearing("four point")).endswith("C not told, C0 not told")
