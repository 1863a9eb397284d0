"""Cell.report: files of what was asked; refusals before any work."""

from __future__ import annotations

from pathlib import Path

import lxml.html
import matplotlib
import pytest

import armwright as aw
from armwright.errors import InputError
from armwright.reported import shown_posture
from cases.reported import small_cell, small_results

matplotlib.use("Agg")


def test_questions_alone_from_results_that_are_there(tmp_path: Path) -> None:
    cell = small_cell()
    results = [small_results()[study] for study in ("check_targets", "outlines", "reach_map", "lifting")]
    written = cell.report(tmp_path / "out", questions=["reach", "lifting"], results=results, units="us", pdf=False)
    assert written[0] == tmp_path / "out" / "report.html" and not list((tmp_path / "out").glob("*.pdf"))
    page = lxml.html.fromstring(written[0].read_text(encoding="utf-8"))
    assert page.xpath("//h2/@id")[:2] == ["reach", "lifting"]
    assert "holds (lb)" in page.text_content() and "holds (kg)" not in page.text_content()
    assert "no [[service]] volume is told" in page.text_content()


@pytest.mark.parametrize(("asked", "told"), [
    ({"questions": ["reech"]}, "did you mean reach"), ({"units": "metric"}, "units"),
    ({"detail": "finest"}, "coarse or fine"),
    ({"cycle": "cycle.toml"}, "cycle: got str"), ({"results": ["x"]}, "results: got str"),
])  # fmt: skip
def test_refused_before_any_work(asked: dict[str, object], told: str, tmp_path: Path) -> None:
    with pytest.raises(InputError, match=told):
        small_cell().report(tmp_path / "out", pdf=False, **asked)  # type: ignore[arg-type]
    assert not (tmp_path / "out").exists()


def test_a_folder_that_cannot_be(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(InputError, match=r"folder: got .*a folder that can be made"):
        small_cell().report(tmp_path / "file", pdf=False)


def test_the_posture_of_pictures() -> None:
    checked = small_results()["check_targets"]
    assert list(shown_posture(checked)) == list(checked["q"].values[0])
    assert shown_posture(checked.isel(target=[1])) is None and shown_posture(None) is None
    assert isinstance(small_cell(), aw.Cell)
