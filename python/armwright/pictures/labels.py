"""Puts words beside points so that they do not run into each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.text import Annotation, Text

from armwright.pictures.canvas import HALO, INK


@dataclass(frozen=True)
class Label:
    """Words for a point in data coordinates. ``centred`` words try the point itself first."""

    words: str
    at: tuple[float, float]
    colour: str = INK
    size: float = 8.0
    bold: bool = False
    centred: bool = False


Box = tuple[float, float, float, float]
_ROUND = np.radians([0, 180, 90, 270, 45, 135, 315, 225, 22, 158, 338, 202])
_RINGS = (8.0, 20.0, 36.0, 56.0, 80.0)  # points


def place_labels(
    ax: Axes, labels: Sequence[Label | Sequence[Label]], keep_clear: Sequence[tuple[float, float]] = ()
) -> list[Annotation]:
    """Writes the labels, each at the free place nearest to its point; those put further off get a leader line. Several
    in a row stand as one block, below each other, beside the point of the first.

    Earlier labels go first. ``keep_clear`` are points (data) whose markers must not be covered. The axes' limits must
    be set before.
    """
    figure = ax.figure.canvas.figure
    figure.draw_without_rendering()
    per_point = figure.dpi / 72
    frame = ax.get_window_extent()
    taken: list[Box] = [_around(ax.transData.transform(point), 5 * per_point) for point in keep_clear]
    written = []
    for label in labels:
        block = [label] if isinstance(label, Label) else list(label)
        texts = [_write(ax, one, block[0].at) for one in block]
        sizes = np.array([_size(text) for text in texts]) + 2 * per_point
        half = np.array([sizes[:, 0].max(), sizes[:, 1].sum()]) / 2
        origin = np.asarray(ax.transData.transform(block[0].at))
        shift = _free_place(origin, half, taken, (frame.x0, frame.y0, frame.x1, frame.y1), per_point, block[0].centred)
        taken.append(_box(origin + shift, half))
        left = shift[0] - half[0]
        for text, size, below in zip(texts, sizes, np.cumsum(sizes[:, 1]), strict=True):
            if len(block) > 1:
                text.set_multialignment("left")
            across = shift[0] if len(block) == 1 else left + size[0] / 2
            text.set_position((across / per_point, (shift[1] + half[1] - below + size[1] / 2) / per_point))
        if np.linalg.norm(np.maximum(np.abs(shift) - half, 0)) > 10 * per_point:
            _leader(ax, block[0], origin, shift, half)
        written += texts
    return written


def _write(ax: Axes, label: Label, at: tuple[float, float]) -> Annotation:
    from matplotlib import patheffects

    text = ax.annotate(
        label.words, at, xytext=(0, 0), textcoords="offset points", fontsize=label.size, color=label.colour,
        fontweight="bold" if label.bold else "normal", ha="center", va="center", zorder=9, linespacing=1.1,
        path_effects=[patheffects.withStroke(linewidth=HALO, foreground="white")],
    )  # fmt: skip
    text.set_in_layout(False)
    return text


def _size(text: Text) -> tuple[float, float]:
    extent = text.get_window_extent()
    return extent.width, extent.height


def drop_overlapping(ax: Axes, words: Sequence[Text], others: Sequence[Text]) -> None:
    """Takes away each of ``words`` that would run into one of ``others`` or into one before it."""
    ax.figure.canvas.figure.draw_without_rendering()
    taken = [_extent(text) for text in others]
    for text in words:
        box = _extent(text)
        if any(_overlap(box, other) > 0 for other in taken):
            text.remove()
        else:
            taken.append(box)


def _extent(text: Text) -> Box:
    extent = text.get_window_extent()
    return extent.x0, extent.y0, extent.x1, extent.y1


def _free_place(
    origin: NDArray[Any], half: NDArray[Any], taken: list[Box], frame: Box, per_point: float, centred: bool
) -> NDArray[Any]:
    """The shift, in pixels, with the least overlap; near places first."""
    best, least = np.zeros(2), np.inf
    shifts = [np.zeros(2)] if centred else []
    for ring in _RINGS:
        for angle in _ROUND:
            way = np.array([np.cos(angle), np.sin(angle)])
            shifts.append(way * (ring * per_point) + np.sign(np.round(way, 2)) * half)
    for rank, shift in enumerate(shifts):
        box = _box(origin + shift, half)
        cost = sum(_overlap(box, other) for other in taken) + 4 * _outside(box, frame) + 0.01 * rank
        if cost < least:
            best, least = shift, cost
        if cost < 0.01 * len(shifts) and cost <= 0.01 * rank:
            break
    return best


def _leader(ax: Axes, label: Label, origin: NDArray[Any], shift: NDArray[Any], half: NDArray[Any]) -> None:
    """A thin line from the point to the nearest edge of its words."""
    end = origin + shift + np.clip(-shift, -half, half)
    (x, y) = ax.transData.inverted().transform(end)
    ax.plot([label.at[0], x], [label.at[1], y], color=label.colour, linewidth=0.6, zorder=8, gid="leader")


def _box(centre: NDArray[Any], half: NDArray[Any]) -> Box:
    return (*(centre - half), *(centre + half))


def _around(centre: NDArray[Any], reach: float) -> Box:
    return _box(np.asarray(centre), np.array([reach, reach]))


def _overlap(a: Box, b: Box) -> float:
    width = min(a[2], b[2]) - max(a[0], b[0])
    height = min(a[3], b[3]) - max(a[1], b[1])
    return width * height if width > 0 and height > 0 else 0.0


def _outside(box: Box, frame: Box) -> float:
    area = (box[2] - box[0]) * (box[3] - box[1])
    return max(0.0, area - _overlap(box, frame))
