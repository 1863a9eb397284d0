# ruff: noqa: E501  messages and tables stand whole
"""A track's tables beside what test_cell_file.py, test_guide_file.py and test_feed_file.py say of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from armwright.errors import InputError
from cases.borne import FEED, cell_with

DRIVE = """
[track.drive]
motor = { continuous = "1.3 N*m", max_speed = "5000 rpm" }
stage = [{ kind = "rack", radius = "21.22 mm" }]
"""


def test_the_feed_and_the_drive_are_of_one_kind(tmp_path: Path) -> None:
    track = cell_with(tmp_path, track=DRIVE + FEED).track
    assert track is not None and track.pinion_radius == pytest.approx(0.02122, rel=1e-3)
    with pytest.raises(InputError, match=r"track.feed.kind: got .belt., expected what the last stage of the drive is: rack"):
        cell_with(tmp_path, track=DRIVE + '[track.feed]\nkind = "belt"\n')
    with pytest.raises(InputError, match=r"track.feed.teeth: got 30, which make a radius of 31.8\d* mm"):
        cell_with(tmp_path, track=DRIVE + FEED.replace("teeth = 20", "teeth = 30"))
