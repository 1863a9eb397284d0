"""Answers as bands: by derivatives and by samples, with what causes them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
import xarray as xr

from armwright.errors import InputError
from armwright.pictures.canvas import DPI, INK, QUIET, SERVED, dress
from armwright.pictures.changes import short_name
from armwright.results import check_dataset
from armwright.results.design_summary import causes_of
from armwright.results.unit_words import in_units, names_in
from armwright.results.units import UnitSystem, shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_WAYS = (("linear", "by derivatives", SERVED, ""), ("sampled", "sampled", "#8fb9cc", "////"))


def uncertainty(dataset: xr.Dataset, *, units: UnitSystem = "si", axes: Sequence[Axes] | None = None) -> list[Axes]:
    """One row an answer: its band by derivatives and by samples (with their median), the value as described as a line,
    and the numbers that cause it.

    >>> sure = cell.uncertainty([aw.ask.payload("over the tub")], {"tool.mass": "10 %"}, samples=0)
    >>> len(pictures.uncertainty(sure))                # one an answer
    1
    """
    what = check_dataset(dataset)
    if what.name != "uncertainty":
        raise InputError.of("dataset", f"a result of {what.name}", "a result of uncertainty")
    count = dataset.sizes["answer"]
    if axes is None:
        import matplotlib.pyplot as plt

        size = (8.0, 1.75 * count + 0.3)
        _, grid = plt.subplots(count, 1, figsize=size, dpi=DPI, layout="constrained", squeeze=False)
        made = [grid[k, 0] for k in range(count)]
    else:
        made = list(axes)
        if len(made) != count:
            raise InputError.of("axes", f"{len(made)} axes", f"{count}: one for each answer")
    for k, ax in enumerate(made):
        _band(dataset.isel(answer=k), ax, units)
    low, high = dataset.attrs["band"]
    ends = f"{100 * low:g} % to {100 * high:g} % of all cases"
    made[-1].annotate(f"bands: {ends}; {dataset.attrs['distribution']}", (0, 0), xycoords="axes fraction",
                      xytext=(0, -34), textcoords="offset points", fontsize=8, color=QUIET, va="top")
    return made


def _band(one: xr.Dataset, ax: Axes, units: UnitSystem) -> None:
    """One answer."""
    unit = shown(str(one["answer_unit"].item()), units)
    rows: list[str] = []
    shown_ends: list[float] = []
    for way, words, colour, hatch in _WAYS:
        if f"{way}_low" not in one:
            continue
        ends = [float(one[f"{way}_{end}"]) * unit.factor for end in ("low", "high")]
        row = len(rows)
        rows.append(words)
        if not np.isfinite(ends).all():
            reason = in_units(str(one["linear_reason"].item()), units, names_in(one)) if way == "linear" else ""
            ax.annotate(reason or ("no answer" if np.isnan(ends).all() else "without limit"), (0.02, row),
                        xycoords=("axes fraction", "data"), fontsize=8, color=QUIET, va="center")
            continue
        shown_ends += ends
        ax.barh(row, ends[1] - ends[0], left=ends[0], height=0.6, color=colour, hatch=hatch, edgecolor="white",
                linewidth=0, gid=way)
        if way == "sampled":
            ax.plot([float(one["sampled_middle"]) * unit.factor] * 2, [row - 0.3, row + 0.3], color=INK, linewidth=1.6,
                    gid="median")
    value = float(one["answer_value"])
    if np.isfinite(value):
        ax.axvline(value * unit.factor, color=INK, linewidth=1.1, linestyle=(0, (4, 2)), gid="described")
        shown_ends.append(value * unit.factor)
    if shown_ends:
        middle, half = (max(shown_ends) + min(shown_ends)) / 2, (max(shown_ends) - min(shown_ends)) / 2
        half = max(1.12 * half, 1e-3 * abs(middle), 1e-6)  # rounding is no band
        ax.set_xlim(middle - half, middle + half)
        ax.ticklabel_format(axis="x", useOffset=False)
    ax.set_yticks(range(len(rows)), rows)
    ax.set_ylim(len(rows) - 0.4, -0.6)
    causes = ", ".join(f"{short_name(name)} {100 * share:.0f} %" for name, share in causes_of(one))
    known = float(one["sampled_known"]) if "sampled_known" in one else 1.0
    lost = "" if known == 1 else f"; no answer in {100 * (1 - known):.3g} % of the samples"
    why = in_units(str(one["answer_reason"].item()), units, names_in(one))
    now = unit.number(value) if np.isfinite(value) else why or "nothing limits it"
    dress(ax, unit.label(str(one["answer"].item())), f"as described {now}{lost}" + (f"; by {causes}" if causes else ""))
