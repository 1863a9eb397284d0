# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from armwright.describe import HalfSpace, load_cell, load_targets
from armwright.errors import InputError
from cases.description_files import ARM, CELL, TARGETS, write_cell


def test_a_cell(tmp_path: Path) -> None:
    cell = load_cell(write_cell(tmp_path))
    assert repr(cell) == "CellDescription 'kiln cell': 'test arm', track 0 to 2400 mm, 2 fixtures, 2 targets"
    assert cell.track is not None and cell.tool is not None and cell.load is not None
    assert cell.track.carriage.mass == 40
    assert cell.track.force_peak == 600
    assert (cell.mount[:3, 3] == (0, 0, 0.15)).all()
    assert (cell.tool.tool_point[:3, 3] == (0, 0, 0.12)).all()
    assert tuple(cell.load.centre) == (0, 0, 0.08)
    assert isinstance(cell.fixtures[0], HalfSpace)
    assert [fixture.clearance for fixture in cell.fixtures] == [0.02, 0.05]
    assert cell.ignored_pairs == (("link 1", "floor"),)
    tub, rack = cell.targets
    assert tub.free_spin and tub.tilt == pytest.approx(np.pi / 18)
    assert tub.load is not None and tub.load.mass == 4
    assert tub.pose[:3, 2] == pytest.approx((0, 0, -1))
    assert rack.free_spin and rack.approach == 0.1
    assert cell.source == str(tmp_path / "cell.toml")
    assert cell == load_cell(str(tmp_path / "cell.toml"))
    assert load_targets(tmp_path / "targets.toml") == (rack,)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"2.4 m"', "2.4", 'cell.toml:9: track.stroke: got 2.4, expected a length with its unit, as "410 mm" (did you mean "2.4 mm"?)'),
        ('"2.4 m"', '["2 m", "1 m"]', "cell.toml:9: track.stroke: got ['2 m', '1 m'], expected a length above 0, or a lower end "
         "and a higher one"),
        ('"2.4 m"', '"2,4 m"', 'cell.toml:9: track.stroke: got "2,4 m", expected a decimal point and no comma (did you mean "2.4 m"?)'),
        ('"targets.toml"', '"../targets.toml"', 'cell.toml:4: targets: got "../targets.toml", expected the path of a file inside '
         "the description's folder; this one is outside"),
        ('"arm.toml"', '"amr.toml"', 'cell.toml:2: arm: got "amr.toml", expected a file that exists (did you mean arm.toml?)'),
        ('"half-space"\n', '"half-space"\nsize = "1, 1, 1 m"\n', "cell.toml:28: fixture[0].size: got (1.0, 1.0, 1.0), expected no "
         "size: a half-space has none"),
        ('"post"', '"floor"', 'cell.toml:32: fixture[1].name: got "floor", expected a different name for each'),
        ("direction", "directoin", 'cell.toml:40: target[0].directoin: got an unknown key ("down"), expected one of approach, '
         "direction, load, name, position, position_tolerance, quaternion_xyzw, retract, roll_pitch_yaw, spin, tilt, turn (did you "
         "mean direction?)"),
        ('direction = "down"', "", "cell.toml:37: target[0].direction: got nothing, expected where the tool points: direction, "
         "roll_pitch_yaw, turn or quaternion_xyzw"),
        ('"6 kg"', '"0 kg"', 'cell.toml:23: load.mass: got "0 kg", expected a mass with its unit, as "6.2 kg", more than 0 kg'),
        ('"glaze tub"', '"rack 1"', 'cell.toml:37: target: got 2 named "rack 1", expected a different name for each'),
        ('[["link 1", "floor"]]', '["link 1"]', "cell.toml:5: ignored_pairs[0]: got \"link 1\", expected a list"),
        ('"600 N"', '"600 kg"', 'cell.toml:10: track.force.continuous: got "600 kg", expected a unit of force, as N, kN, kgf, lbf '
         "(did you mean kgf?)"),
    ],
)  # fmt: skip
def test_messages(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert CELL.count(old) == 1
    with pytest.raises(InputError) as caught:
        load_cell(write_cell(tmp_path, cell=CELL.replace(old, new)))
    assert str(caught.value).replace(f"{tmp_path}/", "") == said


def test_problems_of_all_files_together(tmp_path: Path) -> None:
    path = write_cell(
        tmp_path, ARM.replace("480 mm", "480"), CELL.replace('= "20 mm"', "= 20"), TARGETS.replace('"free"', '"loose"')
    )
    with pytest.raises(InputError) as caught:
        load_cell(path)
    found = [(Path(p.file).name, p.line, p.key) for p in caught.value.problems]
    assert found == [
        ("cell.toml", 3, "clearance"), ("targets.toml", 5, "target[0].spin"), ("arm.toml", 26, "joint[1].dh.a"),
        ("arm.toml", 34, "joint[1].link.shape[0].length"),
    ]  # fmt: skip
