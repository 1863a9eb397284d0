"""Axes to draw on, and the look they share."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from numpy.typing import NDArray

from armwright.errors import InputError

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.cm import ScalarMappable

DPI = 150
INK = "#1a1c1e"
QUIET = "#6b7075"
FAINT = "#d9dcdf"
SERVED = "#0b6e99"  # blue and vermilion differ to every kind of colour vision, and in grey
NOT_SERVED = "#c4420c"
_WIDEST = 7.6  # inches
HALO = 2.4  # points of white around words and lines on a coloured ground


def start(ax: Axes | None, width: float = 7.0, height: float = 5.0) -> Axes:
    """The given axes, or those of a new figure of that size in inches."""
    if ax is not None:
        return ax
    import matplotlib.pyplot as plt

    _, made = plt.subplots(figsize=(width, height), dpi=DPI, layout="constrained")
    return made


def dress(ax: Axes, title: str, note: str = "") -> None:
    """Title at the left, with quieter lines under it; light grid behind; no box."""
    lines = note.count("\n") + 1 if note else 0
    ax.set_title(title, loc="left", fontsize=11, fontweight="bold", color=INK, pad=7 + 11.5 * lines, gid="title")
    if note:
        words = ax.annotate(note, (0, 1), xytext=(0, 6), xycoords="axes fraction", textcoords="offset points",
                            fontsize=8.5, color=QUIET, ha="left", va="bottom", annotation_clip=False, gid="note")
        words.set_in_layout(False)  # a long note must not push a colour bar away
        ax.figure.canvas.figure.patch.set_in_layout(True)  # nor be cut off where a notebook crops to what is laid out
    ax.set_axisbelow(True)
    ax.grid(True, color=FAINT, linewidth=0.6)
    ax.tick_params(labelsize=8.5, colors=INK, length=3)
    ax.xaxis.label.set_fontsize(9.5)
    ax.yaxis.label.set_fontsize(9.5)
    for side in ("top", "right"):
        ax.spines[side].set_visible(False)
    for side in ("left", "bottom"):
        ax.spines[side].set_color(QUIET)


def fit(ax: Axes, given: Axes | None, tall: float = 4.3) -> None:
    """Sizes a figure of our own to its equal-scaled axes and to its words; leaves a given one alone."""
    if given is not None:
        return
    from matplotlib.text import Text

    figure = ax.figure.canvas.figure
    (left, right), (low, high) = ax.get_xlim(), ax.get_ylim()
    wide = tall * (right - left) / (high - low)
    if wide > _WIDEST:
        wide, tall = _WIDEST, max(2.0, tall * _WIDEST / wide)
    figure.draw_without_rendering()
    legend = ax.get_legend()
    bars = 0.9 if ax.child_axes else legend.get_window_extent().width / figure.dpi if legend else 0.0
    heading = [text.get_window_extent().width / figure.dpi for text in ax.findobj(Text)
               if text.get_gid() in ("note", "title")]
    figure.set_size_inches(max(wide + bars, *heading) + 0.95, tall + 1.15)
    ax.set_anchor("W")


def colour_bar(ax: Axes, mapped: ScalarMappable, label: str) -> None:
    """A bar beside the axes as they are drawn, whatever their shape; its width is fixed."""
    from matplotlib.transforms import Bbox

    def beside(_: object, __: object) -> Bbox:
        figure, box = ax.figure.canvas.figure, ax.get_position()
        wide = figure.get_figwidth()
        return Bbox.from_bounds(box.x1 + 0.12 / wide, box.y0 + 0.06 * box.height, 0.14 / wide, 0.88 * box.height)

    place = ax.inset_axes((1.02, 0.06, 0.03, 0.88))
    place.set_axes_locator(beside)
    bar = ax.figure.colorbar(mapped, cax=place)
    bar.set_label(label, fontsize=9, color=INK)
    place.tick_params(labelsize=8.5, length=2, colors=INK)
    bar.outline.set_visible(False)  # type: ignore[operator, unused-ignore]


def outlined(ax: Axes, lines: Sequence[NDArray[Any]], width: float, gid: str, zorder: float) -> None:
    """Dark lines with a white edge, all edges under all lines."""
    from matplotlib.collections import LineCollection

    for colour, extra, order in (("white", HALO, zorder - 0.1), (INK, 0.0, zorder)):
        ax.add_collection(LineCollection(list(lines), colors=colour, linewidths=width + extra, zorder=order,
                                         capstyle="projecting", gid=gid if colour == INK else f"{gid} edge"))


def save(ax: Axes, path: str | os.PathLike[str]) -> Path:
    """Writes the figure of these axes to a file whose ending names the kind (png, svg, pdf).

    >>> pictures.save(pictures.plan(cell.scene(q)), "plan.png").name
    'plan.png'
    """
    target = Path(path)
    if not target.parent.is_dir():
        raise InputError.of("path", str(target), f"a file in a folder that exists: make {target.parent} first")
    try:
        ax.figure.canvas.figure.savefig(target, dpi=DPI)
    except ValueError as error:
        raise InputError.of("path", str(target), "a name that ends in .png, .svg or .pdf") from error
    return target
