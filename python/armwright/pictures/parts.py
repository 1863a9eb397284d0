"""What every part bears, in one picture: its least safety in each situation, by what is wanted of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright.errors import InputError
from armwright.pictures.canvas import INK, NOT_SERVED, QUIET, SERVED, dress, start
from armwright.results import check_dataset
from armwright.results.part_summary import not_known
from armwright.results.part_variables import GROUPS, SITUATIONS

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_MARKS = {"rest": ("o", "white"), "cycle": ("o", SERVED), "stop": ("D", INK)}
_FAR = 100.0  # times what is wanted; more is drawn there
_NEAR = 0.1
_BOLT = list(GROUPS).index("bolt")
Floats = NDArray[np.float64]


def part_safeties(dataset: xr.Dataset, *, most: int = 24, ax: Axes | None = None) -> Axes:
    """A line a part, the weakest first, at most so many: its least safety over what is wanted of it, at rest, in the
    cycle and in the worst stop. Below them every part that could not be looked at.

    >>> borne = cell.part_loads(rows=cell.load_rows(stops=False))
    >>> pictures.part_safeties(borne, most=6).get_xlabel()
    'least safety over what is wanted of it (less than 1: too little)'
    """
    if check_dataset(dataset).name != "part_loads":
        raise InputError.of("dataset", f"a result of {dataset.attrs['study']}", "a result of part_loads")
    if isinstance(most, bool) or not isinstance(most, int | np.integer) or most < 1:
        raise InputError.of("most", repr(most), "a whole number, 1 or more")
    known, unknown, left = _rows(dataset, int(most))
    ax = start(ax, 8.0, 1.6 + 0.24 * max(len(known) + len(unknown), 4))
    for row, (_, shares) in enumerate(known):
        least = float(np.nanmin(shares))
        ends = np.clip([least, np.nanmax(shares)], _NEAR, _FAR)
        ax.plot(ends, [row, row], color=NOT_SERVED if least < 1 else QUIET, linewidth=1.4, zorder=2)
        for situation, share in zip(dataset["situation"].values, shares, strict=True):
            if np.isnan(share):
                continue
            marker, fill = _MARKS[str(situation)]
            ax.plot(np.clip(share, _NEAR, _FAR), row, marker=marker, color=NOT_SERVED if share < 1 else INK,
                    markerfacecolor=NOT_SERVED if share < 1 and fill != "white" else fill, markersize=5.5, zorder=3,
                    linestyle="")  # fmt: skip
    for row, name in enumerate(unknown, len(known)):
        ax.annotate("not looked at", (1, row), ha="center", va="center", fontsize=8, color=NOT_SERVED,
                    bbox={"facecolor": "white", "edgecolor": "none", "pad": 1.5}, gid=f"unknown {name}")  # fmt: skip
    ax.axvline(1, color=NOT_SERVED, linewidth=1.4, zorder=1, gid="wanted")
    for situation in dataset["situation"].values:
        marker, fill = _MARKS[str(situation)]
        ax.plot([], [], marker=marker, color=INK, markerfacecolor=fill, linestyle="", label=SITUATIONS[str(situation)])
    names = [name for name, _ in known] + unknown
    ax.set_yticks(range(len(names)), names)
    ax.set_ylim(len(names) - 0.4, -0.6)
    ax.set_xscale("log")
    ax.set_xlim(_NEAR, _FAR * 1.25)
    ticks = (0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50)
    ax.set_xticks([*ticks, _FAR], [*map(str, ticks), "≥ 100"])
    ax.minorticks_off()
    ax.set_xlabel("least safety over what is wanted of it (less than 1: too little)")
    note = f"{dataset.attrs['arm_name']}: weakest first" + (f"; {left} stronger parts left out" if left else "")
    dress(ax, "What each part bears", note)
    if dataset.sizes["situation"]:
        ax.legend(fontsize=8, frameon=False, ncols=3, loc="upper left", bbox_to_anchor=(0, -0.55 / _tall(ax)))
    return ax


def _tall(ax: Axes) -> float:
    """Height of the axes in inches, about."""
    return float(ax.figure.canvas.figure.get_size_inches()[1] * 0.85)


def _rows(dataset: xr.Dataset, most: int) -> tuple[list[tuple[str, Floats]], list[str], int]:
    """The weakest parts with their shares in each situation; the names of those not looked at; how many are left."""
    share = dataset["safety"].values / dataset["wanted"].values[:, None]
    unknown = not_known(dataset).any(axis=1)
    parts = dataset["part"].values
    lost = list(dict.fromkeys(str(part) for part in parts[unknown]))
    known = []
    for part in dict.fromkeys(str(part) for part in parts):
        mine = share[(parts == part) & ~unknown]
        if part not in lost and mine.size and not np.isnan(mine).all():
            known.append((part, np.fmin.reduce(mine, axis=0)))
    known.sort(key=lambda each: float(np.nanmin(each[1])))
    known = _one_bolt(known, {str(part) for part in parts[dataset["group"].values == _BOLT]})
    return known[:most], lost, max(0, len(known) - most)


def _one_bolt(known: list[tuple[str, Floats]], bolts: set[str]) -> list[tuple[str, Floats]]:
    """Bolts of a pattern bear alike: the weakest stands for all."""
    mine = [name for name, _ in known if name in bolts]
    said = {name: f"{name}, weakest of {len(mine)}" for name in mine[:1] if len(mine) > 1}
    return [(said.get(name, name), shares) for name, shares in known if name not in mine[1:]]
