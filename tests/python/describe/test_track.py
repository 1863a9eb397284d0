# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

import math

import numpy as np
import pytest

from armwright.describe import BeltFeed, Drive, Guide, Motor, RackFeed, ScrewFeed, Stage, Track
from armwright.errors import InputError

GUIDE = Guide((-0.1, 0.1), (-0.1, 0.1))
RACK = Drive(Motor(1.3, max_speed="5000 rpm"), [Stage("rack", radius="20 mm")])


@pytest.mark.parametrize("stroke", [2.4, "2.4 m", "0 m, 2.4 m", ("0 m", "2400 mm"), np.array(2.4), np.array((0, 2.4))])
def test_a_stroke_is_a_length_or_two_ends(stroke: object) -> None:
    assert Track("x", stroke).stroke == (0, 2.4)  # type: ignore[arg-type]


def test_a_decimal_comma_is_no_second_end() -> None:
    with pytest.raises(InputError, match=r'Track.stroke: got "2,4 m", expected a decimal point .*did you mean "2.4 m"'):
        Track("x", "2,4 m")


def test_directions_of_a_guide() -> None:
    assert Track("x", 2, guide=GUIDE).guide_axes == pytest.approx(np.eye(3))
    axes = Track("y", 2, guide=Guide((0,), (0,), up="x")).guide_axes  # on a wall that faces x
    assert axes == pytest.approx(np.array([[0, 0, 1], [1, 0, 0], [0, 1, 0]]))
    sloping = Track((1, 0, 1), 2, guide=GUIDE).guide_axes
    assert sloping.T @ sloping == pytest.approx(np.eye(3)) and np.linalg.det(sloping) == pytest.approx(1)
    assert sloping[:, 2] == pytest.approx((-math.sqrt(0.5), 0, math.sqrt(0.5)))
    with pytest.raises(InputError, match=r"Track.guide.up: got nothing, expected a direction across the track's axis"):
        Track("z", 2, guide=GUIDE)
    assert Track("z", 2, guide=Guide((0,), (0,), up="-x")).guide_axes[:, 2] == pytest.approx((-1, 0, 0))
    with pytest.raises(InputError, match=r"Track.guide: got 7"):
        Track("x", 2, guide=7)  # type: ignore[arg-type]


def test_a_pinion_is_as_large_as_the_drive_has_it() -> None:
    track = Track("x", 2, drive=RACK, feed=RackFeed("2 mm"))
    assert track.pinion_radius == pytest.approx(0.02) and track.pinion_teeth == pytest.approx(20)
    told = Track("x", 2, feed=RackFeed("2 mm", 25))
    assert told.pinion_radius == pytest.approx(0.025) and told.pinion_teeth == 25
    assert Track("x", 2, drive=RACK, feed=RackFeed("2 mm", 20)).pinion_teeth == 20
    assert Track("x", 2).pinion_radius is None and Track("x", 2, feed=RackFeed("2 mm")).pinion_teeth is None
    with pytest.raises(InputError, match=r"Track.feed.teeth: got 40, which make a radius of 40 mm, expected the drive's, 20 mm: 20 teeth"):
        Track("x", 2, drive=RACK, feed=RackFeed("2 mm", 40))


@pytest.mark.parametrize("feed", [BeltFeed(900), ScrewFeed("21 mm")])
def test_the_feed_is_what_the_last_stage_is(feed: BeltFeed | ScrewFeed) -> None:
    Track("x", 2, feed=feed)
    with pytest.raises(InputError, match=r"Track.feed.kind: got .*what the last stage of the drive is: rack"):
        Track("x", 2, drive=RACK, feed=feed)
    with pytest.raises(InputError, match=r'Track.feed: got "rack", expected a RackFeed'):
        Track("x", 2, feed="rack")  # type: ignore[arg-type]
