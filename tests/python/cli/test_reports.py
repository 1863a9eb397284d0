"""The command report: files, what is missing, refusals, on a cell, an arm alone and a URDF."""

from __future__ import annotations

import sys
from pathlib import Path

import lxml.html
import pytest

from armwright.cli import main
from cases.command_line import ran, refused


def test_a_driven_cell(driven: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = driven / "out"
    said = ran(capsys, "report", str(driven / "cell.toml"), "-o", str(out), "--cycle", str(driven / "cycle.toml"),
               "--questions", "moves, supply,track", "--units", "us", "--no-pdf")  # fmt: skip
    page = lxml.html.fromstring((out / "report.html").read_text(encoding="utf-8"))
    assert page.xpath("//h2/@id")[:2] == ["moves", "supply"]
    assert "the cell has no [track]" in page.text_content() and "lbf·ft" in page.text_content()
    assert (out / "tables" / "motors.csv").is_file() and f"wrote {out / 'report.xlsx'}" in said


def test_an_arm_alone(arm_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    ran(capsys, "report", str(arm_file), "-o", str(tmp_path / "out"), "--questions", "reach,moves", "--no-pdf")
    text = (tmp_path / "out" / "report.html").read_text(encoding="utf-8")
    assert "no cycle of moves was given" in text and "the cell has no work points" in text


def test_without_weasyprint_all_else_is_written(
    arm_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "weasyprint", None)  # as if it were not installed
    said = ran(capsys, "report", str(arm_file), "-o", str(tmp_path / "out"), "--questions", "lifting")
    assert "No report.pdf: no weasyprint in this environment; it comes with pip install 'armwright[pdf]'." in said
    assert {path.name for path in (tmp_path / "out").iterdir()} == {"report.html", "report.xlsx", "tables"}


def test_refused(driven: Path, capsys: pytest.CaptureFixture[str]) -> None:
    cell = str(driven / "cell.toml")
    assert "did you mean supply" in refused(capsys, "report", cell, "-o", str(driven / "out"), "--questions", "suply")
    assert "a folder that can be made" in refused(capsys, "report", cell, "-o", cell)
    gone = str(driven / "none.toml")
    assert "none.toml" in refused(capsys, "report", cell, "-o", str(driven / "out"), "--cycle", gone)
    assert not (driven / "out").exists()


def test_help_has_examples(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["report", "--help"])
    said = capsys.readouterr().out
    assert "armwright report cell.toml -o out --cycle cycle.toml" in said and "certainty" in said
