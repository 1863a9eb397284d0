"""What makes the tool stand elsewhere than it should: the share of each cause."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import numpy as np
import xarray as xr

from armwright.errors import InputError
from armwright.pictures.canvas import INK, QUIET, SERVED, dress, start
from armwright.results import check_dataset
from armwright.results.units import UnitSystem, shown, shown_small

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_HATCH = {"backlash": "", "encoder": "....", "placement": "////"}
_BAR = 0.62


def error_shares(
    dataset: xr.Dataset,
    *,
    of: Literal["position", "attitude"] = "position",
    by: Literal["worst", "rss"] = "worst",
    posture: int | None = None,
    most: int = 12,
    units: UnitSystem = "si",
    ax: Axes | None = None,
) -> Axes:
    """The causes of a posture's error with the greatest shares in it, at worst or as root sum of squares; what is left
    is one bar. ``posture``: its place among all, by default the one with the greatest error.

    >>> pictures.error_shares(cell.tool_error(q), most=5).get_xlabel()
    'share (%)'
    """
    what = check_dataset(dataset)
    if what.name != "tool_error":
        raise InputError.of("dataset", f"a result of {what.name}", "a result of tool_error")
    for key, value, choices in (("of", of, ("position", "attitude")), ("by", by, ("worst", "rss"))):
        if value not in choices:
            raise InputError.of(key, repr(value), " or ".join(choices))
    totals = dataset[f"{of}_{by}"].values.ravel()
    if not np.isfinite(totals).any():
        raise InputError.of("dataset", "no cause of error at all", "one that is told")
    at = int(np.nanargmax(totals)) if posture is None else posture
    if not 0 <= at < totals.size:
        raise InputError.of("posture", repr(posture), f"0 to {totals.size - 1}")
    shares = np.nan_to_num(dataset[f"{of}_share_{by}"].values.reshape(totals.size, -1)[at])
    order = [int(k) for k in np.argsort(-shares, kind="stable") if shares[k] > 0]
    kinds, names = dataset["cause_kind"].values, dataset["cause"].values
    rows = [(str(names[k]), str(kinds[k]), float(shares[k])) for k in order[:most]]
    if len(order) > most:
        rows.append((f"{len(order) - most} others", "", float(shares[order[most:]].sum())))
    ax = start(ax, 7.6, 1.5 + 0.3 * max(len(rows), 2))
    _draw(ax, rows)
    size = (shown_small(units) if of == "position" else shown("rad", units)).number(float(totals[at]))
    where = f' at "{dataset["target"].values.ravel()[at]}"' if "target" in dataset else ""
    lost = len([line for line in str(dataset.attrs["missing"]).split("\n") if line])
    words = {"worst": "at worst", "rss": "as root sum of squares"}[by]
    title = {"position": "What moves the tool point", "attitude": "What turns the tool"}[of]
    dress(ax, title, f"{dataset.attrs['arm_name']}: {size} {words}{where}"
          + (f"\n{lost} line{'s' * (lost > 1)} of what is not told and not counted" if lost else ""))  # fmt: skip
    return ax


def _draw(ax: Axes, rows: list[tuple[str, str, float]]) -> None:
    known: set[str] = set()
    for row, (name, kind, share) in enumerate(rows):
        label = kind if kind and kind not in known else None
        ax.barh(row, 100 * share, height=_BAR, color=SERVED if kind else QUIET, hatch=_HATCH.get(kind, ""),
                edgecolor="white", linewidth=0, label=label, gid=name)  # fmt: skip
        known.add(kind)
        ax.annotate(f"{100 * share:.3g} %", (100 * share, row), xytext=(6, 0), textcoords="offset points",
                    va="center", fontsize=8, color=INK)  # fmt: skip
    ax.set_yticks(range(len(rows)), [name for name, _, _ in rows])
    ax.set_ylim(len(rows) - 0.4, -0.6)
    ax.set_xlim(0, 118 * max(share for _, _, share in rows))
    ax.set_xlabel("share (%)")
    if len(known - {""}) > 1:
        ax.legend(loc="upper left", bbox_to_anchor=(0, -0.6 / (0.3 * len(rows) + 0.6)), fontsize=8.5, frameon=False,
                  ncols=len(known))  # fmt: skip
