"""Each picture uses the axes it is given, and names units on both; matplotlib waits until it is needed."""

import subprocess
import sys
from pathlib import Path

import matplotlib as mpl
import numpy as np
import pytest

from armwright import pictures
from armwright.errors import InputError
from armwright.pictures.canvas import dress, start
from armwright.pictures.sections import MAPS
from cases import sample_results as sample

PICTURES = {
    "section": lambda **k: pictures.section(sample.reach_map(), **k),
    "payload_section": lambda **k: pictures.payload_section(sample.payload_map(), **k),
    "payload_curve": lambda **k: pictures.payload_curve(sample.payload_map(0.5), **k),
    "plan": lambda **k: pictures.plan(sample.scene(), **k),
    "outline_section": lambda **k: pictures.outline_section(sample.outlines(), **k),
    "outline_plan": lambda **k: pictures.outline_plan(sample.outlines(), **k),
}


@pytest.mark.parametrize("name", PICTURES)
def test_the_axes_given_are_used_and_returned(name, ax):
    size = tuple(ax.figure.get_size_inches())
    assert PICTURES[name](ax=ax) is ax
    assert ax.has_data() and ax.get_title(loc="left")
    assert tuple(ax.figure.get_size_inches()) == size


@pytest.mark.parametrize("name", PICTURES)
@pytest.mark.parametrize(("units", "length"), [("si", "(m)"), ("us", "(in)")])
def test_units_stand_on_both_axes(name, units, length):
    ax = PICTURES[name](units=units)
    mass = {"si": "(kg)", "us": "(lb)"}[units]
    assert ax.get_xlabel().endswith(length)
    assert ax.get_ylabel().endswith(mass if name == "payload_curve" else length)
    for bar in ax.child_axes:
        assert "index" in bar.get_ylabel() or bar.get_ylabel().endswith((mass, length))


@pytest.mark.parametrize("name", PICTURES)
def test_unknown_units_are_refused(name):
    with pytest.raises(InputError, match='"si" or "us"'):
        PICTURES[name](units="metric")


@pytest.mark.parametrize("name", sorted(set(MAPS.values())))
def test_colours_read_in_grey(name):
    """Lightness L* (CIE 1976, from sRGB by IEC 61966-2-1; constants from memory) grows all along, and by equal steps
    within a factor of four."""
    rgb = mpl.colormaps[name](np.linspace(0, 1, 64))[:, :3]
    linear = np.where(rgb <= 0.04045, rgb / 12.92, ((rgb + 0.055) / 1.055) ** 2.4)
    luminance = linear @ [0.2126, 0.7152, 0.0722]
    lightness = np.where(luminance > 0.008856, 116 * np.cbrt(luminance) - 16, 903.3 * luminance)
    steps = np.diff(lightness)
    assert steps.min() > 0 and steps.max() < 4 * np.median(steps)
    assert lightness[-1] - lightness[0] > 60


def test_save(ax, tmp_path):
    path = pictures.save(PICTURES["outline_plan"](ax=ax), tmp_path / "a.png")
    assert path.read_bytes().startswith(b"\x89PNG")
    with pytest.raises(InputError, match="ends in"):
        pictures.save(ax, tmp_path / "a.nonsense")
    with pytest.raises(InputError, match="make"):
        pictures.save(ax, tmp_path / "no" / "a.png")


def test_a_note_is_not_cut_off_where_a_notebook_crops():
    """As notebooks do: to what is laid out, which a long note is not."""
    ax = start(None)
    dress(ax, "title", "a note that is longer than the axes are wide")
    ax.set_box_aspect(2)
    figure = ax.figure.canvas.figure
    figure.draw_without_rendering()
    (note,) = [text for text in ax.texts if text.get_gid() == "note"]
    kept = figure.get_tightbbox().x1 * figure.dpi
    assert kept >= min(note.get_window_extent().x1, figure.bbox.x1) > ax.get_window_extent().x1


def test_matplotlib_is_not_imported_before_the_first_picture():
    root = Path(__file__).parents[3]
    code = "import sys; import armwright.pictures; sys.exit('matplotlib' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], cwd=root, check=False).returncode == 0
