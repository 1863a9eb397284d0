"""The page in a real browser: its arm against another forward kinematics, its counts against numpy, its looks by eye of
the program: something is drawn, dark is dark, nothing runs over the edge, no error is told."""

import re
import shutil
import subprocess
from html import unescape

import matplotlib.image
import numpy as np
import pytest

from armwright.pictures.page3d.template import render
from armwright.results import Scene, SceneJoint, SceneTarget
from cases import sample_results as sample
from cases.exponentials import tool_by_exponentials

BROWSER = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome", "chrome"))), None)
pytestmark = pytest.mark.skipif(BROWSER is None, reason="no Chromium on this machine to open the page with")
_GRAPHICS = ("--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader")
_BASE = ("--headless=new", "--no-sandbox", "--hide-scrollbars", "--enable-logging=stderr", "--virtual-time-budget=1500",
         "--host-resolver-rules=MAP * ~NOTFOUND", "--no-first-run", "--disable-background-networking")


@pytest.fixture
def browse(tmp_path):
    """Opens a page and gives (body attributes, whole DOM, console lines); takes a picture where a file is given."""

    def run(text, hash_="", *, script="", picture=None, size=(1280, 800), extra=(), graphics=_GRAPHICS):
        path = tmp_path / "cell.html"
        path.write_text(text.replace("</body>", f"<script>{script}</script></body>"), encoding="utf-8")
        what = f"--screenshot={picture}" if picture else "--dump-dom"
        done = subprocess.run(
            [BROWSER, *_BASE, *graphics, f"--user-data-dir={tmp_path / 'profile'}", *extra,
             f"--window-size={size[0]},{size[1]}", what, f"{path.as_uri()}{hash_}"],
            capture_output=True, text=True, timeout=180, check=True)
        body = re.search(r"<body([^>]*)>", done.stdout)
        told = dict(re.findall(r'data-([a-z-]+)="([^"]*)"', body.group(1))) if body else {}
        console = [line for line in done.stderr.splitlines() if "CONSOLE" in line]
        return {name: unescape(value) for name, value in told.items()}, done.stdout, console

    return run


def numbers(text):
    return np.array([float(word) for word in text.split()])


Q = (1.234, -0.7, 0.5, -1.1, 0.9, -1.3, 2.2)


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
def test_the_arm_stands_where_other_kinematics_puts_it(browse, make):
    scene = make()
    told, _, console = browse(render(scene), "#q=" + ",".join(map(str, Q)))
    assert told["ready"] == told["drawn"] == "yes" and console == []
    assert np.allclose(numbers(told["tool-pose"]).reshape(4, 4), tool_by_exponentials(scene, Q), atol=1e-12)


def test_sliders_and_keys_move_the_arm(browse):
    scene = sample.scene()
    script = """
      const track = document.getElementById("joint-0"), axis = document.getElementById("joint-2");
      track.value = "1.5"; track.dispatchEvent(new Event("input"));
      for (const key of ["ArrowRight", "ArrowRight", "PageDown"])
        axis.dispatchEvent(new KeyboardEvent("keydown", {key}));
      document.body.dataset.said = axis.getAttribute("aria-valuetext");"""
    told, _, console = browse(render(scene), script=script)
    q = numbers(told["q"])
    wanted = np.array(scene.q)
    wanted[0], wanted[2] = 1.5, scene.q[2] - np.radians(8)
    assert np.allclose(q, wanted, atol=1e-9) and console == []
    assert told["said"] == f"{np.degrees(wanted[2]):.1f}°"
    assert np.allclose(numbers(told["tool-pose"]).reshape(4, 4), tool_by_exponentials(scene, q), atol=1e-12)


def test_a_work_point_moves_the_arm_there_and_says_why_not(browse):
    scene = sample.scene()
    there = (0.9, *scene.q[1:])
    good = SceneTarget("good", np.eye(4), True, "", there)
    bad = SceneTarget("bad", np.eye(4), False, "out of reach by 38 mm")
    scene = Scene(scene.name, scene.arm_name, scene.joints, scene.q, targets=(good, bad), has_track=True)
    script = """
      const [good, bad] = document.querySelectorAll("#targets button");
      good.click(); document.body.dataset.first = document.getElementById("told").textContent;
      bad.click(); document.body.dataset.second = document.getElementById("told").textContent;
      document.body.dataset.pressed = bad.getAttribute("aria-pressed");"""
    told, _, _ = browse(render(scene), script=script)
    assert np.allclose(numbers(told["q"]), there) and "serving" in told["first"]
    assert "not served, out of reach by 38 mm" in told["second"] and told["pressed"] == "true"


@pytest.mark.parametrize(("hash_", "test"), [
    ("#cut=", lambda d, x, y, z: d.reachable.values),
    ("#cut=x:0.25&variable=clearance&from=0.2", lambda d, x, y, z: (x >= 0.25 - 1e-5) & (d.clearance.values >= 0.2)),
    ("#cut=z:-0.3&variable=limit_margin&from=0.75", lambda d, x, y, z: (z >= -0.3) & (d.limit_margin.values >= 0.75)),
])
def test_cut_and_threshold_let_through_what_numpy_does(browse, hash_, test):
    dataset = sample.reach_map(0.25)
    grid = np.meshgrid(*(dataset[name].values for name in "xyz"), indexing="ij")
    told, dom, _ = browse(render(sample.scene(), dataset), hash_)
    wanted = int(np.count_nonzero(test(dataset, *grid) & dataset.reachable.values))
    assert wanted > 0 and int(told["shown"]) == wanted
    assert f"{wanted} of {int(dataset.reachable.sum())} positions shown" in dom


def test_units_and_the_terms_of_a_mass(browse):
    _, dom, _ = browse(render(sample.scene(), sample.payload_map(0.25), "us"))
    assert "attitudes (lb)" in dom and re.search(r"Load centre \(0\.0.in, 0\.0.in, 2\.4.in\)", unescape(dom))
    assert "continuous torque" in dom


def test_names_stay_names(browse):
    act = "document.body.dataset.hacked=1"
    evil = f"</script><script>{act}</script><img src=x onerror='{act}'>"
    scene, target = sample.scene(), SceneTarget(evil, np.eye(4), False, evil)
    scene = Scene(evil, evil, scene.joints, scene.q, targets=(target,), has_track=True)
    told, _, console = browse(render(scene))
    assert told["ready"] == "yes" and "hacked" not in told and console == []


def test_controls_have_names_and_nothing_runs_over_the_edge(browse):
    script = """
      const all = [...document.querySelectorAll("input, select, button, canvas")];
      const named = (e) => e.labels && e.labels.length || e.textContent.trim() || e.getAttribute("aria-label");
      document.body.dataset.nameless = all.filter((e) => !named(e)).map((e) => e.id).join(" ");
      // A window can be no narrower than 500: the page is narrowed in it.
      const wide = innerWidth < 600 ? 420 : innerWidth;
      document.body.style.width = wide + "px";
      const edges = [...document.querySelectorAll("#view, #canvas, #legend, #panel, #panel *")].map(
        (e) => e.getBoundingClientRect().right);
      document.body.dataset.over = Math.max(...edges) - wide;
      document.body.dataset.wide = wide;"""
    for size in ((1280, 800), (500, 900)):
        told, _, _ = browse(render(sample.scene(), sample.reach_map(0.5)), script=script, size=size)
        assert told["nameless"] == "" and float(told["over"]) <= 0 and told["wide"] in ("1280", "420")


@pytest.mark.parametrize("size", [(1280, 800), (420, 900)])
def test_it_is_drawn_light_and_dark(browse, tmp_path, size):
    """A picture of a cell has many colours, and the dark page is darker than the light one, all over."""
    text = render(sample.scene(), sample.reach_map(0.25))
    means = []
    for scheme in ("1", "0"):  # Chromium's numbers for light and dark
        shot = tmp_path / f"{scheme}.png"
        setting = f"--blink-settings=preferredColorScheme={scheme}"
        _, _, console = browse(text, picture=shot, size=size, extra=(setting,))
        pixels = matplotlib.image.imread(shot)[..., :3]
        assert console == [] and pixels.shape[:2] == (size[1], size[0])
        picture = pixels[: size[1] // 2, : size[0] // 2]
        assert len(np.unique((picture * 31).astype(int).reshape(-1, 3), axis=0)) > 150
        means.append(pixels.mean())
    assert means[0] > 0.7 and means[1] < 0.3


def test_without_graphics_the_lists_and_numbers_are_there(browse):
    none = ("--disable-gpu", "--disable-3d-apis")
    told, dom, _ = browse(render(sample.scene(), sample.reach_map(0.5)), graphics=none)
    assert told["ready"] == "yes" and told["drawn"] == "no"
    assert not re.search(r'id="no-picture"[^>]*hidden', dom) and "out of reach by 38 mm" in dom
    assert np.allclose(numbers(told["tool-pose"]).reshape(4, 4), tool_by_exponentials(sample.scene(), sample.scene().q))
