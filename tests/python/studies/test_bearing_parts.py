"""What is told of bearings reaches the core, and what is not told is named."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

import armwright as aw
from armwright import _core
from armwright.studies.bearing_parts import bearing_parts
from cases.borne_cells import TAPERED, ball_on_axis, pair, slewing

elements = _core.elements


def arm(bearing: object, **more: object) -> aw.ArmDescription:
    described = ball_on_axis(bearing).arm.description
    return replace(described, joints=(replace(described.joints[0], **more),)) if more else described


def test_a_slewing_bearing() -> None:
    told = bearing_parts(arm(slewing(offset=0.02)), 1)
    (part,) = told.parts
    assert (part.joint, part.name, part.places, part.element_count) == (1, "axis 1: bearing", ("single",), 40)
    assert part.offset == 0.02 and part.ratings == ((20e3, 30e3),)
    assert math.degrees(part.core.rolling.contact_angle) == pytest.approx(45)
    assert told.missing == [] and told.assumed == []
    own = slewing(kind="four point", factor_x=1, factor_y=0.7, static_factor_x=1, static_factor_y=0.6)
    told = bearing_parts(arm(own), 0)
    assert told.assumed == []
    assert elements.load_factors(told.parts[0].core.rolling, 100.0)[1:] == (1, 0.7, 1, 0.7)
    assert elements.static_factors(told.parts[0].core.rolling) == (1, 0.6)


def test_a_pair() -> None:
    told = bearing_parts(arm(pair(TAPERED, moved_ring="inner")), 0)
    (part,) = told.parts
    assert part.core.effective_span == pytest.approx(0.12) and part.places == ("near", "far")
    assert told.missing == [] and told.assumed == []
    face = bearing_parts(arm(pair(TAPERED, arrangement="face to face")), 0)
    assert face.parts[0].core.effective_span == pytest.approx(0.08)


def test_a_tapered_bearings_angle_follows_from_its_factor() -> None:
    own = pair(TAPERED, contact_angle=None, factor_x=0.4, factor_y=1.6)
    told = bearing_parts(arm(own), 0)
    near = _core.limits.pair_duty(
        told.parts[0].core, told.parts[0].axis, 0.0, [[0, 0, 800.0, 0, 0, 0]], [0.0], [0.0], [0.0]
    )[0]
    assert near["static_equivalent"].max() == pytest.approx(0.55 * 1.6 * 800)  # 0.22 cot α
    assert "from factor_y" in told.assumed[0]


@pytest.mark.parametrize(
    ("bearing", "words"),
    [
        (slewing(pitch_diameter=None), "no pitch diameter"),
        (slewing(dynamic_rating=None), "no dynamic rating"),
        (slewing(static_rating=None), "no static rating"),
        (slewing(roller_count=None), "no roller count"),
        (pair(span=None), "no span"),
        (pair(dynamic_rating=None), "no dynamic rating"),
        (pair(static_rating=None), "no static rating"),
        (pair(ball_count=None), "no ball count"),
        (pair(TAPERED, contact_angle=None), "neither a contact angle"),
        (pair(TAPERED, contact_angle="50 deg"), "0° to 45°"),
        (pair(TAPERED, kind="angular contact", contact_angle="5 deg"), "10° to 45°"),
    ],
)
def test_what_is_not_told_is_named(bearing: object, words: str) -> None:
    (missing,) = bearing_parts(arm(bearing), 0).missing
    assert missing.startswith("axis 1: ") and words in missing


def test_joints_without_a_bearing_are_named() -> None:
    assert bearing_parts(arm(None), 0).missing == ["axis 1: no bearing is described"]
    slide = bearing_parts(arm(None, kind="prismatic", range=(0, 1)), 0)
    assert "slides" in slide.missing[0] and slide.parts == []
