from __future__ import annotations

from pathlib import Path

import lxml.html
import pytest
import xarray as xr

from armwright.cli import main
from armwright.report import question_keys
from cases.command_line import refused


def test_the_demo_needs_a_folder_too(arm_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert "a folder that can be made" in refused(capsys, "demo", str(arm_file), "--quiet")


@pytest.mark.whole_demo
@pytest.mark.timeout(900)  # minutes where the processors are busy
def test_the_demo_answers_what_it_promises(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(("demo", str(tmp_path), "--quiet")) == 0
    said = capsys.readouterr().out
    for words in (
        "of 11 work points served", "reachable volume", "rack, glaze, kiln: ", "could carry ", "could go ",
        "of the branch circuit", "no brake; without power it moves", "the tool drops by", "moves 0 kg",
        "meets the end of its range", "Best base at (", "fork of aluminium for 90 EUR: payload margin",
        "caused by arm.", "NOT LOOKED AT: axis 6: no bearing told", "rail 1, bending: safety", "Caution:",
    ):  # fmt: skip
        assert words in said, words
    pictures = {path.stem for path in tmp_path.glob("*.png")}
    assert pictures >= {
        "work_points", "reach_section", "payload_section", "payload_against_reach", "outlines", "cycle_torques",
        "operating_points", "payload_against_time", "power", "payload_at_speed", "holding", "stop",
        "part_loads", "joint_wrenches", "bolts", "blocks", "sag", "sag_over_reach", "tool_error", "hanging",
        "placement_served", "changes", "alternatives", "uncertainty",
    }  # fmt: skip
    results = {path.stem: xr.load_dataset(path) for path in tmp_path.glob("*.nc")}
    assert all(result.attrs["study"] == name for name, result in results.items())
    # the cycle can be run as it is timed: nothing is loaded past what it bears
    assert results["drive_check"].attrs["weakest_share"] <= 1 + 1e-9
    assert results["payload_against_time"]["mass"].sel(slowing=1).item() >= 6
    told = lxml.html.fromstring((tmp_path / "report.html").read_text(encoding="utf-8"))
    anchors = set(told.xpath("//h2/@id"))
    assert set(question_keys()) - {"others"} <= anchors and "not-asked" not in anchors
    assert all(f"{value:.3g}" in told.text_content() for value in results["holding"]["factor"].values if value < 1e9)
    assert (tmp_path / "report.pdf").read_bytes().startswith(b"%PDF-")
    assert (tmp_path / "cell.html").stat().st_size > 100_000
    page = (tmp_path / "bears.html").read_text(encoding="utf-8")
    parts = results["part_loads"]
    assert all(f">{name}<" in page for name in set(parts["part"].values))
    assert {"rest", "cycle", "stop"} == set(parts["situation"].values)
