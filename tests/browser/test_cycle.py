"""A cycle played in the page: the demonstration's own, against the core's forward kinematics and distances."""

import json
from importlib.resources import as_file, files

import numpy as np
import pytest

import armwright as aw
from armwright.pictures.page3d.template import render
from cases.on_page import gap, told, tool_pose, wait_until


@pytest.fixture(scope="module")
def studio():
    with as_file(files("armwright") / "demo") as folder:
        cell = aw.load_cell(folder / "cell.toml")
        return cell, aw.load_cycle(folder / "cycle.toml", cell)


@pytest.fixture(scope="module")
def motion(studio):
    cell, cycle = studio
    return cell.motion(cycle)


@pytest.fixture(scope="module")
def page(opened, studio, motion):
    cell, _ = studio
    return opened(render(cell.scene(motion["q"].values[0]), cycle=motion), size=(900, 600))


def go_to(page, time):
    page.eval_on_selector("#time", f"(e) => {{ e.value = '{time}'; e.dispatchEvent(new Event('input')); }}")
    return told(page)


def test_the_tool_and_the_gap_are_the_cores_at_every_time(page, studio, motion):
    cell, _ = studio
    parts = {name: getattr(cell, name) for name in ("arm", "track", "fixtures", "tool")}
    empty = aw.Cell(**parts, mount=cell.description.mount)
    rows = np.linspace(0, motion.sizes["time_point"] - 1, 25).astype(int)
    rows = rows[np.diff(motion["time"].values[rows], append=np.inf) > 0]
    carried = 0
    for row in rows:
        time, q = float(motion["time"][row]), motion["q"].values[row]
        values = go_to(page, time)
        assert np.allclose(tool_pose(values)[:3, 3], cell.tool_pose(q)[:3, 3], atol=1e-6)
        later = int(np.searchsorted(motion["time"].values, time + 1e-9) - 1)  # of two at one time
        loaded = int(motion["load_index"][later]) >= 0
        carried += loaded
        assert page.inner_text("#carries") == ("board of ware" if loaded else "nothing")
        found = (cell if loaded else empty).clearance(q)
        distance, _, names = gap(values)
        assert distance == pytest.approx(float(found["distance"]), abs=1e-4)
        assert distance == pytest.approx(float(motion["clearance"][later]), abs=1e-4)
        assert names == {str(found["name_a"].item()), str(found["name_b"].item())}
    assert 5 < carried < len(rows) - 3


def test_between_rows_it_goes_in_proportion_and_the_move_is_named(page, motion):
    i = int(np.argmax(np.diff(motion["time"].values)))
    middle = float(motion["time"][i : i + 2].mean())
    q = np.array([float(word) for word in go_to(page, middle)["q"].split()])
    assert np.allclose(q, motion["q"].values[i : i + 2].mean(axis=0), atol=1e-6)
    for name, start, end in zip(*(motion[n].values for n in ("move", "move_start", "move_end")), strict=True):
        go_to(page, (start + end) / 2)
        assert f"· {name} ·" in page.inner_text("#cycle-now")
        assert page.inner_text("#strip-moves [data-now]") == name
        assert name in page.get_attribute("#time", "aria-valuetext")


def test_moves_are_stepped_through_by_keys(page, motion):
    go_to(page, 0)
    starts = np.unique(motion["move_start"].values.round(9))
    for start in starts[1:4]:
        page.focus("#move-after")
        page.keyboard.press("Enter")
        assert float(told(page)["time"]) == pytest.approx(start, abs=1e-6)
    page.focus("#move-before")
    page.keyboard.press("Enter")
    assert float(told(page)["time"]) == pytest.approx(starts[2], abs=1e-6)


def test_it_plays_pauses_and_goes_on_from_the_start(page, motion):
    go_to(page, motion.attrs["duration"] - 0.2)
    page.select_option("#pace", "4")
    page.click("#play")
    assert page.inner_text("#play").strip() == "Pause"
    wait_until(lambda: 0.3 < float(told(page)["time"]) < 10)
    page.click("#play")
    assert page.inner_text("#play").strip() == "Play"
    stopped = told(page)["time"]
    page.wait_for_timeout(150)
    assert told(page)["time"] == stopped
    page.click("#play")
    page.focus("#joint-1")
    page.keyboard.press("ArrowRight")
    assert page.inner_text("#play").strip() == "Play", "a hand on an axis ends the play"


def test_a_load_stands_where_it_is_taken_and_left(page, studio, motion):
    cell, _ = studio
    shape = cell.load.shapes[0].pose
    rows = np.flatnonzero(motion["load_index"].values >= 0)
    taken, left = (cell.tool_pose(motion["q"].values[row]) @ shape for row in (rows[0], rows[-1]))
    times = motion["time"].values
    for time, wanted in ((0.0, taken), (times[rows[0]] - 0.1, taken), (times[rows[-1]] + 0.5, left), (times[-1], left)):
        stands = json.loads(go_to(page, time)["loads"])
        assert np.allclose(stands["board of ware"], wanted[:3, 3], atol=1e-6)
        assert page.inner_text("#carries") == "nothing"
    page.select_option("#load", label="nothing")
    assert json.loads(told(page)["loads"]) == {}
