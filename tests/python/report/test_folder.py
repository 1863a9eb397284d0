"""What a result leaves in a folder: the data as they were, every picture, the words with the cautions."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import matplotlib.pyplot as plt
import numpy as np
import pytest
import xarray as xr

import armwright as aw
from armwright import pictures
from armwright.report import caution_line, targets_table, write_result
from armwright.results import summary
from cases import sample_results as sample
from cases.designs import level_cell
from cases.driven_cells import supply, thirds, turntable
from cases.elastic_arms import elastic_arm
from cases.laden_cells import laden_cell, sway
from cases.true_cells import unsure_cell


def driven(study: str) -> xr.Dataset:
    cell, motion = turntable(), thirds(np.pi / 2, 0.6, 0.6)
    return cell.power(motion, supply()) if study == "power" else getattr(cell, study)(motion)


@pytest.mark.parametrize(
    ("result", "names"),
    [
        (lambda: sample.reach_map(0.2), ["reach_section.png", "reach_plan.png"]),
        (lambda: sample.payload_map(0.2), ["payload_section.png", "payload_against_reach.png"]),
        (sample.outlines, ["outlines.png"]),
        (lambda: driven("drive_check"), ["cycle_torques.png", "operating_points.png"]),
        (lambda: driven("payload_against_time"), ["payload_against_time.png"]),
        (lambda: driven("power"), ["power.png"]),
        (lambda: level_cell().sweep({"load.mass": [1.0, 2.0]}, aw.ask.served()), ["sweep.png"]),
        (lambda: level_cell().sweep({"load.mass": [1.0, 2.0]}, study="check_targets"), []),
        (lambda: turntable().separation(0.3), []),
        (sample.part_loads, ["part_loads.png"]),
        (lambda: laden_cell().joint_wrenches(), ["joint_wrenches.png"]),
        (lambda: laden_cell().base_loads(), ["bolts.png"]),
        (lambda: laden_cell(told=False).base_loads(), []),
        (lambda: laden_cell().track_loads(), ["blocks.png"]),
        (lambda: laden_cell().track_loads(sway(laden_cell())), ["blocks.png", "blocks_over_cycle.png"]),
        (lambda: laden_cell(told=False).track_loads(), []),
        (lambda: elastic_arm().sag(np.zeros(6)), ["sag.png"]),
        (lambda: elastic_arm().sag_over_reach(0.3), ["sag_over_reach.png"]),
        (lambda: unsure_cell().tool_error(np.zeros(unsure_cell().joint_count)), ["tool_error.png"]),
        (sample.clearance, []),
    ],
)
def test_data_then_pictures_then_words(result: Any, names: list[str], tmp_path: Path) -> None:
    dataset, before = result(), plt.get_fignums()
    study = dataset.attrs["study"]
    written = write_result(dataset, tmp_path / "not" / "yet")
    assert [path.name for path in written] == [f"{study}.nc", *names, f"{study}.txt"]
    assert set((tmp_path / "not" / "yet").iterdir()) == set(written)
    assert aw.open_result(written[0]).identical(dataset)
    for picture in written[1:-1]:
        assert picture.read_bytes().startswith(b"\x89PNG\r\n")
    assert written[-1].read_text(encoding="utf-8") == f"{summary(dataset)}\n\n{caution_line()}\n"
    assert plt.get_fignums() == before  # closed behind it


def test_what_a_joint_bears_is_drawn_beside_its_bearing_s_limit(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    drawn = []
    monkeypatch.setattr(pictures, "save", lambda ax, path: drawn.append(ax) or path)
    cell = laden_cell()
    rows = cell.load_rows()
    for bearings in (None, cell.bearings(rows=rows)):
        write_result(cell.joint_wrenches(rows=rows), tmp_path, bearings=bearings)
    told = [{line.get_gid() for line in ax.lines} for ax in drawn]
    assert "limit" not in told[0] and "limit" in told[1]


def test_work_points_are_told_as_a_table_and_drawn_where_there_is_a_scene(tmp_path: Path) -> None:
    checked = sample.check_targets()
    without, drawn = write_result(checked, tmp_path / "a"), write_result(checked, tmp_path / "b", sample.scene())
    assert [path.name for path in without] == ["check_targets.nc", "check_targets.txt"]
    assert [path.name for path in drawn] == ["check_targets.nc", "work_points.png", "check_targets.txt"]
    assert targets_table(checked) in without[-1].read_text(encoding="utf-8")


def test_writing_again_replaces_what_was_there(tmp_path: Path) -> None:
    for _ in range(2):
        assert len(write_result(sample.outlines(), tmp_path)) == 3
    assert len(list(tmp_path.iterdir())) == 3


def cuts(monkeypatch: pytest.MonkeyPatch, result: xr.Dataset, folder: Path) -> list[dict[str, Any]]:
    """Where the pictures of a reach map are cut."""
    asked: list[dict[str, Any]] = []
    drawn = pictures.section

    def section(*arguments: Any, **more: Any) -> Any:
        asked.append({key: value for key, value in more.items() if key in "xyz" and value is not None})
        return drawn(*arguments, **more)

    monkeypatch.setattr(pictures, "section", section)
    write_result(result, folder)
    return asked


def test_the_upright_cut_goes_through_the_base_and_the_level_one_where_most_is_reached(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    result = sample.reach_map(0.2)
    richest = max(result.z.values, key=lambda z: float(result.reach_index.sel(z=z).sum()))
    assert cuts(monkeypatch, result, tmp_path) == [{"y": pytest.approx(0.0)}, {"z": richest}]
    shifted = result.assign_attrs(base_position=(0.3, 0.47, 0.0))
    assert cuts(monkeypatch, shifted, tmp_path)[0] == {"y": pytest.approx(0.4)}  # the plane of the map next to it


@pytest.mark.parametrize(
    ("span", "cut"),
    [
        ((0.0, 0, 0, 1.2, 0, 0), {"x": 0.6}),
        ((0, -1.0, 0, 0, 0.2, 0), {"y": -0.4}),
        ((0, 0, 0, 0.1, 1.6, 0), {"y": 0.8}),
    ],
)
def test_with_a_track_the_cut_is_square_to_it_at_its_middle(
    span: tuple[float, ...], cut: dict[str, float], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    result = sample.reach_map(0.2).assign_attrs(track_span=span)
    asked = cuts(monkeypatch, result, tmp_path)[0]
    assert asked.keys() == cut.keys() and list(asked.values()) == pytest.approx(list(cut.values()))


def test_a_map_too_thin_for_that_is_cut_along(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """One plane across the track, as the payload map of a section is: cut square to it, it would be a line."""
    thin = sample.reach_map(0.2).isel(y=[7]).assign_attrs(track_span=(0.0, 0, 0, 1.2, 0, 0))
    assert "y" in cuts(monkeypatch, thin, tmp_path)[0]
