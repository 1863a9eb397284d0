# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

from pathlib import Path

import pytest

from armwright.errors import InputError
from cases.borne import GUIDE, cell_with


def test_a_guide(tmp_path: Path) -> None:
    cell = cell_with(tmp_path, track=GUIDE)
    assert cell.track is not None and cell.track.guide is not None
    guide = cell.track.guide
    assert guide.places.tolist() == [[-0.14, -0.15], [0.14, -0.15], [-0.14, 0.15], [0.14, 0.15]]
    assert (guide.height, guide.distance, guide.static_rating, guide.kind) == (0.06, 100e3, 30e3, "ball")
    assert guide.beam is not None and guide.beam.outer == 0.08 and guide.beam.material.elastic_modulus == 110e9
    assert "track: rail beam: no ends: simply supported" in cell.assumptions
    lists = cell_with(tmp_path, track=GUIDE.replace('["-140 mm", "140 mm"]', '[["-140 mm", "140 mm"], ["0 mm"]]'))
    assert len(lists.track.guide.places) == 3  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"ball"', '"bal"', 'track.guide.kind: .*did you mean "ball"'),
        ("rails =", "rail =", "track.guide.rail: got an unknown key .*did you mean rails"),
        ('["-150 mm", "150 mm"]', '["-150 mm", 150]', 'track.guide.rails: .*did you mean "150 mm"'),
        ('["-150 mm", "150 mm"]', '["150 mm", "150 mm"]', r"track.guide.rails\[1\]: got 150 mm"),
        ('["-150 mm", "150 mm"]', "[]", "track.guide.rails: got 0 numbers"),
        ('blocks = ["-140 mm", "140 mm"]', "", "track.guide.blocks: got nothing, expected this key: where the blocks are"),
        ('["-140 mm", "140 mm"]', '[["1 mm"], ["1 mm"], ["1 mm"]]', "track.guide.blocks: got 3 lists"),
        ('["-140 mm", "140 mm"]', '[["1 mm"], ["1 mm", "1 mm"]]', r"track.guide.blocks\[1\]\[1\]: got 1 mm"),
        ('"100 km"', '"100 m"', 'track.guide.rating_distance: .*"50 km" or "100 km"'),
        ('"100 km"', "100", "track.guide.rating_distance: .*a length with its unit"),
        ('"17 kN"', '"17"', 'track.guide.dynamic_rating: .*did you mean "17 N"'),
        ('"62 mm"', '"620 mm"', "track.guide.block_length: got 620 mm"),
        ('"62 mm"', '"62 mm"\nup = "x"', "track.guide.up: got .*a direction across the track's axis"),
        ('span = "600 mm"\n', "", "track.guide.beam.span: got nothing"),
        ('section = "square"', 'section = "sqare"', 'track.guide.beam.section: .*did you mean "square"'),
        ('"80 mm"', '"8 mm"', "track.guide.beam.wall: got 4 mm, expected less than half the outer size, 8 mm"),
        ('wall = "4 mm"', 'second_moment = "3 cm^4"', "track.guide.beam.wall: "),
        ('{ name = "cast iron", elastic_modulus = "110 GPa" }', '"steal"', 'track.guide.beam.material.*: .*did you mean "steel"'),
    ],
)
def test_refusals(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in GUIDE
    with pytest.raises(InputError, match=said):
        cell_with(tmp_path, track=GUIDE.replace(old, new))
