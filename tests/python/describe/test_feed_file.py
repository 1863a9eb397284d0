# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

from pathlib import Path

import pytest

from armwright.describe import BeltFeed, Material, RackFeed, ScrewFeed
from armwright.errors import InputError
from cases.borne import FEED, cell_with

BELT = '[track.feed]\nkind = "belt"\nallowed_force = "900 N"\npreload = "400 N"\n'
SCREW = '[track.feed]\nkind = "screw"\nroot_diameter = "21 mm"\nlength = "2.6 m"\nends = "fixed, supported"\nmaterial = "steel S355"\n'


def test_feeds(tmp_path: Path) -> None:
    feeds = [cell_with(tmp_path, track=text).track.feed for text in (FEED, BELT, SCREW)]  # type: ignore[union-attr]
    assert feeds == [
        RackFeed("2 mm", 20, helix="19.53 deg", allowed_force="3 kN", across="120 mm"), BeltFeed(900, 400),
        ScrewFeed("21 mm", "2.6 m", "fixed, supported", material=Material("steel S355")),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "old", "new", "said"),
    [
        (FEED, '"rack"', '"rak"', 'track.feed.kind: .*did you mean "rack"'),
        (FEED, 'module = "2 mm"\n', "", "track.feed.module: got nothing, expected this key: a rack has one"),
        (FEED, 'module = "2 mm"', "module = 2", 'track.feed.module: .*did you mean "2 mm"'),
        (FEED, "teeth = 20", "teeth = 20.5", "track.feed.teeth: got 20.5, expected a whole number of teeth"),
        (FEED, "teeth = 20", 'preload = "400 N"', "track.feed.preload: .*no preload: a rack has none"),
        (FEED, "teeth = 20", 'material = "steel"', "track.feed.material: got a table, expected no material: a rack has none"),
        (FEED, "teeth = 20", "tooth = 20", "track.feed.tooth: got an unknown key .*did you mean teeth"),
        (BELT, "preload", "module", "track.feed.module: "),
        (BELT, '"400 N"', '"950 N"', "track.feed.preload: got 950 N, expected less than the allowed force, 900 N"),
        (SCREW, '"fixed, supported"', '"fixed and supported"', 'track.feed.ends: .*did you mean "fixed, supported"'),
        (SCREW, '"21 mm"', '"21 m"', "track.feed.root_diameter: got 21000 mm, expected less than the length"),
    ],
)
def test_refusals(tmp_path: Path, text: str, old: str, new: str, said: str) -> None:
    assert old in text
    with pytest.raises(InputError, match=said):
        cell_with(tmp_path, track=text.replace(old, new))
