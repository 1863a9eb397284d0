"""The 3-D page in a real browser: its arm against another forward kinematics, its counts against numpy, clicks and
keys, what it tells those who listen, and its looks by eye of the program: something is drawn, dark is dark, nothing
runs over the edge."""

import io
import re

import matplotlib.image
import numpy as np
import pytest

from armwright.pictures.page3d.template import render
from armwright.results import Scene, SceneJoint, SceneTarget
from cases import sample_results as sample
from cases.exponentials import tool_by_exponentials
from cases.on_page import move_axes, numbers, told, tool_pose, wait_until

Q = (1.234, -0.7, 0.5, -1.1, 0.9, -1.3, 2.2)
SMALL = (480, 360)  # little to draw


@pytest.fixture(scope="module")
def page(opened):
    """The page of the sample cell, with both maps and a cycle."""
    return opened(render(sample.scene(), [sample.reach_map(0.25), sample.payload_map(0.25)], cycle=sample.motion()))


def skew_scene():
    """Joints about slanted axes, none along x, y or z; bare links, so that rods are drawn."""
    rng = np.random.default_rng(11)
    joints = []
    for i in range(7):
        axis = rng.normal(size=3)
        turn = np.linalg.qr(rng.normal(size=(3, 3)))[0]
        placement = np.eye(4)
        placement[:3, :3], placement[:3, 3] = turn * np.sign(np.linalg.det(turn)), rng.normal(size=3)
        kind = "prismatic" if i in (0, 3) else "revolute"
        joints.append(SceneJoint(f"j{i}", kind, placement, tuple(axis / np.linalg.norm(axis)), -np.inf, np.inf))
    return Scene("slanted", "slanted", tuple(joints), (0.0,) * 7)


@pytest.mark.parametrize("make", [sample.scene, skew_scene])
def test_the_arm_stands_where_other_kinematics_puts_it(opened, make):
    scene = make()
    values = told(opened(render(scene), "#q=" + ",".join(map(str, Q)), size=SMALL))
    assert values["ready"] == values["drawn"] == "yes"
    assert np.allclose(tool_pose(values), tool_by_exponentials(scene, Q), atol=1e-12)


def test_sliders_and_keys_move_the_arm(page):
    scene = sample.scene()
    values = move_axes(page, Q)
    assert np.allclose(tool_pose(values), tool_by_exponentials(scene, Q), atol=1e-12)
    page.focus("#joint-2")
    for key in ("ArrowRight", "ArrowRight", "PageDown"):
        page.keyboard.press(key)
    q = numbers(told(page)["q"])
    wanted = np.array(Q)
    wanted[2] -= np.radians(8)
    assert np.allclose(q, wanted, atol=1e-9)
    assert page.get_attribute("#joint-2", "aria-valuetext") == f"{np.degrees(wanted[2]):.1f}°".replace("-", "−")
    place = [float(n.replace("−", "-")) for n in re.findall(r"([−\d.]+)\s+m", page.inner_text("#tool-place"))]
    assert np.allclose(place, tool_by_exponentials(scene, q)[:3, 3], atol=6e-4)
    page.click("text=Back to the start")
    assert np.allclose(numbers(told(page)["q"]), scene.q)


def test_a_work_point_in_the_list_or_in_the_picture_moves_the_arm_there_and_says_why_not(opened):
    scene = sample.scene()
    there, near = (0.9, *scene.q[1:]), (1.7, *scene.q[1:])
    facts = {"clearance": 0.052, "nearest_a": "fork", "nearest_b": "post", "payload": 11.4, "payload_wanted": 6.0,
             "payload_joint": "axis 2", "payload_part": "belt"}  # fmt: skip
    good = SceneTarget("good", sample.pose(0.5, 0.3, 1.2), True, "", there, "", facts)
    bad = SceneTarget("bad", sample.pose(1.6, -0.5, 0.6), False, "out of reach by 38 mm", near)
    none = SceneTarget("none", sample.pose(2.6, -0.5, 1.6), False, "nowhere")
    scene = Scene(scene.name, scene.arm_name, scene.joints, scene.q, targets=(good, bad, none), has_track=True)
    page = opened(render(scene), size=(900, 600))
    page.click("#targets button:has-text('good')")
    assert np.allclose(numbers(told(page)["q"]), there)
    text = page.inner_text("#told")
    for words in ("good: served", "52\u00a0mm, fork and post", "11.4\u00a0kg of 6.0\u00a0kg wanted",
                  "axis 2 gives out (belt)"):  # fmt: skip
        assert words in text
    wait_until(lambda: "good: served" in page.text_content("#said"))
    for how in ("name", "mark"):
        page.click("text=Back to the start")
        box = page.locator("#labels span", has_text="bad").bounding_box()
        middle = box["y"] + box["height"] / 2
        if how == "name":
            page.mouse.click(box["x"] + box["width"] / 2, middle)
        for up in range(0, 60, 8):  # a name that would cover another stands lower than its mark
            if not np.allclose(numbers(told(page)["q"]), near):
                page.mouse.click(box["x"] - 10, middle - up)
        assert np.allclose(numbers(told(page)["q"]), near), how
    assert "bad: not served, out of reach by 38 mm" in page.inner_text("#told")
    assert page.get_attribute("#targets button:has-text('bad')", "aria-pressed") == "true"
    page.focus("#canvas")
    page.keyboard.press("n")
    assert "none: not served, nowhere. There is no posture to show." in page.inner_text("#told")
    assert np.allclose(numbers(told(page)["q"]), near)
    page.keyboard.press("p")
    assert "bad" in page.inner_text("#told")


@pytest.mark.parametrize(("map_", "variable", "cut", "from_"), [
    ("reach_map", "reach_index", "", None), ("reach_map", "clearance", "x", 0.2),
    ("payload_map", "mass_least", "z", 9.0),
])
def test_map_cut_and_threshold_let_through_what_numpy_does(page, map_, variable, cut, from_):
    dataset = {"reach_map": sample.reach_map, "payload_map": sample.payload_map}[map_](0.25)
    values = dataset[variable]
    page.select_option("#map", label={"reach_map": "Reach", "payload_map": "Payload at rest"}[map_])
    page.select_option("#variable", label=values.attrs["long_name"].split(":")[0])
    page.select_option("#cut-axis", cut)
    reached = dataset["reachable"].values if "reachable" in dataset else ~np.isnan(values.values)
    shown = reached.copy()
    if cut:
        set_slider(page, "cut", 400)
        line = dataset[cut].values
        place = np.meshgrid(*(dataset[name].values for name in "xyz"), indexing="ij")["xyz".index(cut)]
        shown &= place >= line[0] + 0.4 * (line[-1] - line[0]) - 1e-5
    if from_ is not None:
        low, most = page.evaluate("""(name) => {
          const { maps } = JSON.parse(document.getElementById("data").textContent);
          const v = maps.flatMap((m) => m.variables).find((v) => v.name === name);
          return [v.low, v.most];
        }""", variable)
        assert most == np.nanmax(values.values)
        set_slider(page, "threshold", round(1000 * (from_ - low) / (most - low)))
        shown &= values.values >= low + round(1000 * (from_ - low) / (most - low)) / 1000 * (most - low)
    assert 0 < shown.sum() == int(told(page)["shown"])
    assert page.inner_text("#volume-count") == f"{shown.sum()} of {reached.sum()} positions shown."


def set_slider(page, name, value):
    page.eval_on_selector("#" + name, f"(e) => {{ e.value = '{value}'; e.dispatchEvent(new Event('input')); }}")


def test_a_ball_that_is_clicked_tells_its_mass_and_what_gives_out(page):
    dataset = sample.payload_map(0.25)
    page.select_option("#map", label="Payload at rest")
    page.select_option("#variable", "0")
    page.select_option("#cut-axis", "")
    page.eval_on_selector("[data-show=names]", "(e) => e.click()")
    page.click("[data-look=top]")
    box = page.locator("#canvas").bounding_box()
    for step in range(60):  # across the picture: between the balls there is room
        page.mouse.click(box["x"] + box["width"] * (0.9 - step / 120), box["y"] + box["height"] * (0.5 + step / 600))
        if page.text_content("#here-head") == "Map there":
            break
    text = page.inner_text("#here")
    page.eval_on_selector("[data-show=names]", "(e) => e.click()")
    at = r", ".join([r"([−\d.]+)\s+m"] * 3)
    mass, joint, *at = re.match(rf"([\d.]+)\s+kg; then (axis \d) gives out, at {at}", text).groups()
    x, y, z = (float(n.replace("−", "-")) for n in at)
    there = dataset.sel(x=x, y=y, z=z, method="nearest")
    assert float(mass) == pytest.approx(float(there["mass_greatest"]), abs=0.06)
    assert joint == dataset["joint_names"].values[int(there["limiting_joint"])]


def test_units_are_the_readers_choice(page):
    page.select_option("#map", label="Payload at rest")
    page.select_option("#units", "us")
    assert "(lb)" in page.inner_text("#legend-words")
    assert re.search(r"\(0\.0.in, 0\.0.in, 2\.4.in\)", page.inner_text("#volume-note"))
    assert "out of reach by 1.50\u00a0in" in page.inner_text("#targets") and "in/s" in page.inner_text("#strip-words")
    page.select_option("#units", "si")
    assert "out of reach by 38 mm" in page.inner_text("#targets")


def test_names_stay_names(opened):
    act = "document.body.dataset.hacked=1"
    evil = f"</script><script>{act}</script><img src=x onerror='{act}'>\"'`${{1}}\\"
    found = {"nearest_a": evil, "clearance": 1.0}
    scene, target = sample.scene(), SceneTarget(evil, np.eye(4), False, evil, load=evil, found=found)
    solids = tuple(type(s)(**{**vars(s), "name": evil, "body": evil}) for s in scene.solids)
    scene = Scene(evil, evil, scene.joints, scene.q, solids, (target,), has_track=True, load=evil)
    cycle = sample.motion()
    cycle = cycle.assign_coords({n: (n, [evil] * cycle.sizes[n], cycle[n].attrs) for n in ("move", "load_name")})
    cycle.attrs["cycle_name"] = evil
    page = opened(render(scene, cycle=cycle), size=SMALL)
    page.click("#targets button")
    page.click("#move-after")
    assert "hacked" not in told(page) and page.title() == evil and page.inner_text("h1") == evil
    assert page.locator("img").count() == 0 and page.inner_text("#carries") == evil


def test_a_few_great_values_do_not_take_the_colours_of_all_others(opened):
    """One position in fifty holds ten times more than any other: by hand, colours end among the others."""
    dataset = sample.payload_map(0.25)
    mass = dataset["mass_greatest"]
    held = np.argwhere(~np.isnan(mass.values))
    usual = float(mass.max())
    for place in held[::50]:
        mass.values[tuple(place)] = 10 * usual
    page = opened(render(sample.scene(), [dataset]), "#cut=", size=SMALL)
    ticks = page.inner_text("#legend-ticks").split()
    assert ticks[-2] == "≥" and float(ticks[-1]) <= usual + 0.05
    set_slider(page, "threshold", 500)
    assert int(told(page)["shown"]) == len(held[::50])


def test_nothing_of_the_cell_is_drawn_under_the_words(opened):
    """Where the plate was, the page's ground alone is left: in each row of one colour."""
    scene = sample.scene()
    solids = tuple(solid for solid in scene.solids if solid.kind != "half_space" and solid.role != "load")
    scene = Scene(scene.name, scene.arm_name, scene.joints, scene.q, solids, tool=scene.tool)
    page = opened(render(scene), size=(900, 600))
    for look in ("corner", "front", "top"):
        page.click(f"[data-look={look}]")
        page.eval_on_selector("#plate", "(e) => { e.style.visibility = 'hidden'; }")
        page.wait_for_timeout(100)
        pixels = matplotlib.image.imread(io.BytesIO(page.screenshot(clip=page.locator("#plate").bounding_box())))
        page.eval_on_selector("#plate", "(e) => { e.style.visibility = ''; }")
        assert np.ptp(pixels[..., :3], axis=1).max() < 0.02, look


SIZES = {"wide": (1280, 800), "phone": (390, 844)}


@pytest.mark.parametrize("size", list(SIZES))
def test_it_is_drawn_light_and_dark_and_fits(opened, size):
    """A picture of a cell has many colours, and the dark page is darker than the light one, all over."""
    text = render(sample.scene(), sample.reach_map(0.25), cycle=sample.motion())
    means = []
    for scheme in ("light", "dark"):
        page = opened(text, scheme=scheme, size=SIZES[size], touch=size == "phone")
        page.wait_for_timeout(100)
        pixels = matplotlib.image.imread(io.BytesIO(page.screenshot()))[..., :3]
        means.append(pixels.mean())
        box = page.locator("#canvas").bounding_box()
        top, wide = int(box["y"]), box["width"]
        picture = pixels[top : int(top + box["height"] / 2), int(wide / 4) : int(wide * 0.75)]
        assert len(np.unique((picture * 31).astype(int).reshape(-1, 3), axis=0)) > 100
        assert page.evaluate("document.documentElement.scrollWidth") <= SIZES[size][0]
        edge = page.evaluate("Math.max(...[...document.querySelectorAll('#plate, #legend, #cycle *, #panel *')].map("
                             "(e) => e.getBoundingClientRect().right))")  # fmt: skip
        assert edge <= SIZES[size][0] + 0.5
    assert means[0] > 0.7 and means[1] < 0.3


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_those_who_listen_are_told_all(opened, scheme):
    """axe-core's rules, of WCAG 2.2 AA and of good practice."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="no axe-core to read the page with")
    page = opened(render(sample.scene(), sample.payload_map(0.5), cycle=sample.motion()), scheme=scheme)
    page.click("#targets button")
    found = axe.Axe().run(page).response["violations"]
    assert [(rule["id"], node["html"][:120]) for rule in found for node in rule["nodes"]] == []


def test_the_keyboard_reaches_all_in_order_and_leaves_again(page):
    wanted = page.evaluate("""[...document.querySelectorAll("canvas, button, input, select")].filter(
      (e) => e.offsetParent).map((e) => (e.dataset.at = String(Math.random())))""")
    page.focus("#play")
    page.keyboard.press("Shift+Tab")
    reached, seen = [], []
    for _ in wanted:
        at, outline = page.evaluate("""[document.activeElement.dataset.at,
          getComputedStyle(document.activeElement).outlineStyle]""")
        reached.append(at)
        seen.append(outline)
        page.keyboard.press("Tab")
    assert reached == wanted and set(seen) == {"solid"}


def test_without_graphics_the_lists_and_numbers_are_there(opened):
    page = opened(render(sample.scene(), sample.reach_map(0.5), cycle=sample.motion()), graphics=False)
    values = told(page)
    assert values["drawn"] == "no" and page.is_visible("#no-picture")
    assert "out of reach by 38 mm" in page.inner_text("#targets")
    assert np.allclose(tool_pose(values), tool_by_exponentials(sample.scene(), sample.scene().q))
    page.click("#move-after")
    assert "with the ware" in page.inner_text("#cycle-now")
