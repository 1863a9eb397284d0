"""The notebooks' sliders, moved by a program in a kernel of their own: the answers follow."""

from __future__ import annotations

from pathlib import Path

import pytest

jupytext = pytest.importorskip("jupytext", reason="jupytext is not installed")
nbclient = pytest.importorskip("nbclient", reason="nbclient is not installed")

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"
# notebook: what is there to move, which slider, from one value to another, and a word that is in the answer then
MOVED = {
    "reach": ("nearest_live", 2, 35, 100, "TOO NEAR"),
    "carry": ("carried_live", 0, 40, 90, "axis 2 gives out"),
    "longer_track": ("served_live", 0, 1.0, 3.4, "served"),
}


def tags(cell) -> list[str]:
    return cell.metadata.get("tags", [])


@pytest.mark.parametrize("name", MOVED)
def test_the_answer_follows_the_slider(name: str) -> None:
    box, place, before, after, word = MOVED[name]
    notebook = jupytext.read(NOTEBOOKS / f"{name}.py")
    notebook.cells = [cell for cell in notebook.cells if {"first", "live"} & set(tags(cell))]
    assert [kind for cell in notebook.cells for kind in tags(cell)].count("live") == 1
    drive = jupytext.reads(
        f"# %%\nslider, shown = {box}.children[{place}], {box}.children[-1]\nslider.value = {before}\n"
        f"first = shown.value\nslider.value = {after}\nassert shown.value != first\n"
        f"print(first.count('<img'), shown.value.count('<img'), shown.value.partition('<pre>')[2])\n", fmt="py:percent",
    )  # fmt: skip
    notebook.cells += drive.cells
    nbclient.NotebookClient(notebook, timeout=240, kernel_name="python3").execute()
    (said,) = notebook.cells[-1].outputs
    assert said.text.startswith("1 1 ") and word in said.text


def test_every_live_cell_is_moved_here() -> None:
    live = {path.stem for path in NOTEBOOKS.glob("*.py") if 'tags=["live"]' in path.read_text(encoding="utf-8")}
    assert live == set(MOVED)
