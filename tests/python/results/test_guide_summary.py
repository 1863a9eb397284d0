"""What a track bears, in words."""

from __future__ import annotations

import armwright as aw
from armwright.results import summary
from cases.railed_cells import both, driven, guide, rows, swinging


def test_blocks_feed_and_holding_stand_in_words() -> None:
    cell = driven(aw.Stage("rack", radius=0.02), aw.RackFeed(0.002, allowed_force=500.0), brake=aw.Brake(4.0))
    moving = rows([[0.0, 0.0], [1.0, 0.0]], [0.5, 0.0], [1.0, 0.0], kind="cycle", duty=2.0)
    told = summary(cell.track_loads(rows=both(moving, rows([0.5, 0.0], [0, 4.0], kind="stop"))))
    for words in (
        "rail 1, block 2: 327 to 519 N onto the rail, 0 N across", "static safety", "km, ", "h of this duty",
        "feed, force along the track: 256 N of 500 N, safety 1.95",
        "the track, standing in stops: 256 N along it (a stop), 200 N held by the brake", "to mind: track: 256 N",
        "not looked at: guide: no beam told under its rails",
    ):  # fmt: skip
        assert words in told, told


def test_what_is_not_known_is_not_made_up() -> None:
    told = summary(swinging(guide(height=None)).track_loads(rows=rows([0.5, 0.0])))
    assert "rail 1, block 1: not known" in told and "static safety" not in told.split("left out")[0]
