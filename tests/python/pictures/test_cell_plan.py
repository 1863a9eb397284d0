"""The plan: what stands where, and work points told apart by more than colour."""

import dataclasses

import numpy as np
import pytest

from armwright.pictures import plan
from armwright.results.frames import base_pose, tool_pose
from cases import sample_results as sample


def _points(ax, gid):
    return np.array([p for line in ax.lines if line.get_gid() == gid for p in line.get_xydata()])


def test_targets_stand_in_their_places_with_their_own_markers():
    scene = sample.scene()
    ax = plan(scene)
    for gid, served in (("served", True), ("not served", False)):
        wanted = np.array([t.pose[:2, 3] for t in scene.targets if t.served is served])
        assert np.allclose(_points(ax, gid), wanted)
    marker = {line.get_gid(): line.get_marker() for line in ax.lines}
    assert marker["served"] == "o" and marker["not served"] == "x"
    assert [text.get_text() for text in ax.get_legend().get_texts()] == ["served (5)", "not served (2)"]


def test_every_target_is_named_and_failures_say_why():
    written = [text.get_text().replace("\n", " ") for text in plan(sample.scene()).texts]
    for name, (_, _, _, served, reason) in sample.TARGETS.items():
        (label,) = [words for words in written if words.startswith(name + ",")]
        assert served or reason in label
    assert "plan view, kiln loader, serves 5 of 7 work points" in written


def test_without_names_only_the_note_is_written():
    ax = plan(sample.scene(), names=False)
    assert [text.get_gid() for text in ax.texts] == ["note"]


def test_labels_do_not_run_into_each_other():
    ax = plan(sample.scene())
    ax.figure.draw_without_rendering()
    boxes = [t.get_window_extent() for t in ax.texts if t.get_gid() != "note"]
    assert len(boxes) > 15
    assert not any(a.overlaps(b) for i, a in enumerate(boxes) for b in boxes[:i])


def test_unchecked_targets_are_open_circles():
    scene = sample.scene()
    targets = tuple(dataclasses.replace(t, served=None, reason="") for t in scene.targets)
    ax = plan(dataclasses.replace(scene, targets=targets))
    (line,) = [line for line in ax.lines if line.get_gid() == "not checked"]
    assert line.get_markerfacecolor() == "white" and len(line.get_xydata()) == 7


def test_every_solid_but_half_spaces_is_drawn():
    scene = sample.scene()
    ax = plan(scene)
    drawn = [c.get_gid() for c in ax.collections]
    for role in ("link", "tool", "load", "fixture", "track"):
        assert drawn.count(role) == sum(s.role == role and s.kind != "half_space" for s in scene.solids)
    assert [patch.get_gid() for patch in ax.patches].count("wall") == 1  # the floor is no wall


def test_rails_run_along_the_stroke_and_the_base_stands_on_them():
    scene = sample.scene()
    ax = plan(scene)
    rails = _points(ax, "rail")
    assert np.isclose(np.ptp(rails[:, 0]), 2.0)
    assert np.allclose(_points(ax, "base"), base_pose(scene)[:2, 3])
    assert np.isclose(base_pose(scene)[0, 3], scene.q[0])


def test_the_arm_is_drawn_at_the_posture():
    scene = sample.scene()
    outlines = {}
    for q in (scene.q, (1.5, *scene.q[1:])):
        moved = dataclasses.replace(scene, q=q)
        (tool,) = [c for c in plan(moved).collections if c.get_gid() == "tool"]
        outlines[q[0]] = tool.get_paths()[0].vertices.mean(axis=0)
        assert np.linalg.norm(outlines[q[0]] - tool_pose(moved)[:2, 3]) < 0.15
    assert np.allclose(outlines[1.5] - outlines[0.4], (1.1, 0), atol=1e-9)


@pytest.mark.parametrize("change", [{"targets": ()}, {"solids": ()}, {"targets": (), "solids": ()}])
def test_a_bare_scene_draws(change):
    plan(dataclasses.replace(sample.scene(), left_out=(), **change)).figure.draw_without_rendering()


def test_us_units():
    assert np.isclose(np.ptp(_points(plan(sample.scene(), units="us"), "rail")[:, 0]), 2 / 0.0254)
