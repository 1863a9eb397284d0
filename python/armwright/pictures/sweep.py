"""Answers of many designs: curves over one number, maps over two, scatters against each of more."""

from __future__ import annotations

import textwrap
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright.errors import InputError
from armwright.pictures.canvas import DPI, INK, NOT_SERVED, SERVED, colour_bar, dress
from armwright.pictures.changes import short_name
from armwright.results import check_dataset
from armwright.results.unit_words import in_units, names_in
from armwright.results.units import Shown, UnitSystem, shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_BEST: dict[str, Any] = {"marker": "*", "markersize": 13, "color": NOT_SERVED, "markeredgecolor": "white",
                         "linestyle": "none", "zorder": 6, "gid": "best"}  # fmt: skip
_MOST_GROUPS = 8  # of a trend


@dataclass(frozen=True)
class _Number:
    """A design number that was varied. ``at``: its values as they are drawn, over its dim; of parts their places."""

    dim: str
    at: NDArray[Any]
    words: tuple[str, ...]
    label: str
    unit: Shown


def sweep(dataset: xr.Dataset, *, units: UnitSystem = "si", axes: Sequence[Axes] | None = None) -> list[Axes]:
    """The answers of a sweep. Over one number a curve for each answer, over two a map; of a latin hypercube, and over
    more numbers, each answer against each number, with the trend (means of groups). A star marks the best design;
    designs without an answer are hatched, or crosses, and told. Gives the axes, answer by answer.

    >>> swept = cell.sweep({"tool.mass": ["1.2 kg", "2.4 kg"]}, [aw.ask.payload("over the tub")])
    >>> [ax.get_xlabel() for ax in pictures.sweep(swept)]
    ['tool mass (kg)']
    """
    what = check_dataset(dataset)
    if what.name != "sweep":
        raise InputError.of("dataset", f"a result of {what.name}", "a result of sweep")
    if "value" not in dataset:
        raise InputError.of("dataset", f"a sweep of {dataset.attrs['swept_study']}", "a sweep of answers")
    numbers = _numbers(dataset, units)
    dims = list(dict.fromkeys(number.dim for number in numbers))
    plain = "design" not in dims and len(dims) <= 2
    across = 1 if plain else len(numbers)
    made = _axes(axes, dataset.sizes["answer"], across, len(dims) if plain else 3)
    for k in range(dataset.sizes["answer"]):
        one, own = dataset.isel(answer=k), made[k * across : (k + 1) * across]
        if not plain:
            _scatters(own, one, numbers, units)
        elif len(dims) == 1:
            _curve(own[0], one, numbers[0], units)
        else:
            _map(own[0], one, numbers, units)
    return made


def _axes(given: Sequence[Axes] | None, answers: int, across: int, kind: int) -> list[Axes]:
    count = answers * across
    if given is not None:
        if len(given) != count:
            each = "answer" if across == 1 else "answer and number"
            raise InputError.of("axes", f"{len(given)} axes", f"{count}: one for each {each}")
        return list(given)
    import matplotlib.pyplot as plt

    columns = across if kind == 3 else 1 if kind == 1 else min(answers, 2)
    rows = -(-count // columns)
    wide, tall = {1: (7.4, 2.5), 2: (4.6, 3.6), 3: (2.9, 2.5)}[kind]
    size = (max(wide * columns, 5.0), tall * rows)
    figure, grid = plt.subplots(rows, columns, figsize=size, dpi=DPI, layout="constrained", squeeze=False)
    figure.get_layout_engine().set(w_pad=0.08, h_pad=0.08)  # type: ignore[union-attr, call-arg, unused-ignore]
    for spare in grid.ravel()[count:]:
        spare.remove()
    return list(grid.ravel()[:count])


def _numbers(dataset: xr.Dataset, units: UnitSystem) -> list[_Number]:
    """The design numbers, in the order of their dims."""
    found = []
    for array in dataset.coords.values():
        meaning = str(array.attrs.get("long_name", ""))
        if not meaning.startswith("design number ") or array.ndim != 1:
            continue
        path, unit = meaning.removeprefix("design number "), shown(str(array.attrs["units"]), units)
        parts = array.dtype.kind not in "fiu"
        at = np.arange(array.size, dtype=np.float64) if parts else array.values * unit.factor
        words = tuple(map(str, array.values)) if parts else ()
        found.append(_Number(str(array.dims[0]), at, words, unit.label(short_name(path)), unit))
    order = [str(dim) for dim in dataset["value"].dims]
    return sorted(found, key=lambda number: order.index(number.dim))


def _curve(ax: Axes, one: xr.Dataset, number: _Number, units: UnitSystem) -> None:
    unit = _unit(one, units)
    values = one["value"].values * unit.factor
    known = np.isfinite(values)
    ax.plot(number.at, np.where(known, values, np.nan), color=SERVED, linewidth=0 if number.words else 1.4, marker="o",
            markersize=5, gid="curve")
    edges = _edges(number.at)
    for i in np.flatnonzero(~known):
        ax.axvspan(edges[i], edges[i + 1], facecolor="#f3f2ef", edgecolor="#a9a59d", linewidth=0, hatch="////",
                   zorder=0.5, gid="no answer")
    best = _best(one)
    if best is not None:
        ax.plot([number.at[best]], [values[best]], **_BEST)
    ax.set_xlim(edges[0], edges[-1])
    _values_axis(ax, values[known], unit)
    _ticks(ax.xaxis, number, 75)
    ax.set_xlabel(number.label)
    dress(ax, unit.label(str(one["answer"].item())), _note(one, units, 98))


def _map(ax: Axes, one: xr.Dataset, numbers: list[_Number], units: UnitSystem) -> None:
    unit = _unit(one, units)
    across, up = numbers
    values = one["value"].transpose(up.dim, across.dim).values * unit.factor
    known = np.isfinite(values)
    edges = _edges(across.at), _edges(up.at)
    if known.any():
        low, high = float(values[known].min()), float(values[known].max())
        room = max(1e-9, 1e-6 * abs(low)) if low == high else 0.0  # one colour, one tick
        mesh = ax.pcolormesh(*edges, np.ma.masked_array(values, ~known), cmap="viridis", zorder=1, gid="map",
                             vmin=low - room, vmax=high + room)
        colour_bar(ax, mesh, unit.label(str(one["answer"].item())))
        if room:
            mesh.colorbar.set_ticks([low], labels=[f"{low:.4g}"])  # type: ignore[union-attr]
        elif _whole(values[known], unit):
            mesh.colorbar.set_ticks(np.unique(np.linspace(low, high, 9).round()).tolist())  # type: ignore[union-attr]
    for row, column in np.argwhere(~known):
        x, y = edges[0][column : column + 2], edges[1][row : row + 2]
        ax.fill([x[0], x[1], x[1], x[0]], [y[0], y[0], y[1], y[1]], facecolor="#f3f2ef", edgecolor="#a9a59d",
                linewidth=0, hatch="////", zorder=1.5, gid="no answer")
    best = _best(one.transpose(up.dim, across.dim, ...))
    if best is not None:
        row, column = np.unravel_index(best, values.shape)
        ax.plot([across.at[column]], [up.at[row]], **_BEST)
    ax.set_xlim(edges[0][0], edges[0][-1])
    ax.set_ylim(edges[1][0], edges[1][-1])
    for axis, number in ((ax.xaxis, across), (ax.yaxis, up)):
        _ticks(axis, number)
        axis.set_label_text(number.label)
    dress(ax, str(one["answer"].item()), _note(one, units, 54))
    ax.grid(False)


def _scatters(own: Sequence[Axes], one: xr.Dataset, numbers: list[_Number], units: UnitSystem) -> None:
    unit = _unit(one, units)
    dims = list(dict.fromkeys(number.dim for number in numbers))
    values = one["value"].transpose(*dims).values * unit.factor
    best, known = _best(one.transpose(*dims, ...)), np.isfinite(values).ravel()
    for ax, number in zip(own, numbers, strict=True):
        shape = [-1 if dim == number.dim else 1 for dim in dims]
        at = np.broadcast_to(number.at.reshape(shape), values.shape).ravel()
        flat = values.ravel()
        ax.plot(at[known], flat[known], linestyle="none", marker=".", markersize=5, color="#8fb9cc", gid="designs")
        lines = _trend(at[known], flat[known])
        ax.plot(*lines, color=INK, linewidth=1.6, marker="o", markersize=3.5, zorder=4, gid="trend")
        ax.plot(at[~known], np.full((~known).sum(), 0.03), linestyle="none", marker="x", markersize=5,
                color=NOT_SERVED, transform=ax.get_xaxis_transform(), gid="no answer")
        if best is not None:
            ax.plot([at[best]], [flat[best]], **_BEST)
        edges = _edges(np.unique(at))
        room = 0.03 * float(edges[-1] - edges[0])
        ax.set_xlim(edges[0] - room, edges[-1] + room)
        _values_axis(ax, flat[known], unit)
        _ticks(ax.xaxis, number)
        ax.set_xlabel(number.label)
        first = ax is own[0]
        dress(ax, "", "\n" * 2)
        if first:
            note = _note(one, units, 44 * min(len(own), 2)) + "\nblack: the trend, means of groups"
            dress(ax, unit.label(str(one["answer"].item())), note)
        else:
            ax.tick_params(labelleft=False)
    low, high = own[0].get_ylim()
    reach = 0.1 * (high - low) if not known.all() else 0.0  # room for the crosses
    for ax in own:
        ax.set_ylim(low - reach, high)


def _trend(at: NDArray[Any], values: NDArray[Any]) -> tuple[NDArray[Any], NDArray[Any]]:
    """Means of the designs at each value of a number; where there are many values, of groups of as many designs."""
    levels = np.unique(at)
    order = np.argsort(at, kind="stable")
    if levels.size <= _MOST_GROUPS:
        groups = [np.flatnonzero(at == level) for level in levels]
    else:
        groups = np.array_split(order, min(_MOST_GROUPS, max(2, at.size // 6)))
    middles = [(float(at[group].mean()), float(values[group].mean())) for group in groups if group.size]
    line = np.array(middles).reshape(-1, 2)
    return line[:, 0], line[:, 1]


def _best(one: xr.Dataset) -> int | None:
    """The place of the first best design among all; None if none has an answer, or all are alike."""
    good = _goodness(one)
    known = good[np.isfinite(good)]
    if not known.size or np.ptp(known) <= 1e-9 * np.abs(known).max():
        return None
    return int(np.nanargmax(np.where(np.isfinite(good), good, np.nan)))


def _goodness(one: xr.Dataset) -> NDArray[Any]:
    """The answers, flat, so that more is better."""
    values: NDArray[Any] = one["value"].values.ravel()
    return values if str(one["answer_better"].item()) == "more" else -values


def _unit(one: xr.Dataset, units: UnitSystem) -> Shown:
    return shown(str(one["answer_unit"].item()), units)


def _note(one: xr.Dataset, units: UnitSystem, wide: int) -> str:
    """The best, and how many have no answer for which reason."""
    values, better, unit = one["value"].values.ravel(), str(one["answer_better"].item()), _unit(one, units)
    known, best, lines = np.isfinite(values), _best(one), []
    if best is not None:
        good = _goodness(one)
        alike = int((good >= good[best] - 1e-9 * np.abs(good[known]).max())[known].sum())
        first = f", first of {alike} alike" if alike > 1 else ""
        lines.append(f"best (star{first}): {unit.number(float(values[best]))}, the {better} the better")
    elif known.any():
        lines.append(f"{unit.number(float(values[known][0]))} in every design that has an answer")
    free, lost = int(np.isinf(values).sum()), int(np.isnan(values).sum())
    if free:
        lines.append(f"without limit in {free} of {values.size}")
    if lost:
        reasons = [str(word) for word in one["reason"].values.ravel()[np.isnan(values)]]
        reason, often = Counter(reasons).most_common(1)[0]
        others = "" if often == lost else f" (and others, in {lost - often})"
        lines.append(f"no answer in {lost} of {values.size}: {in_units(reason, units, names_in(one))}{others}")
    return "\n".join(part for line in lines for part in textwrap.wrap(line, wide, max_lines=2, placeholder=" …"))


def _edges(at: NDArray[Any]) -> NDArray[Any]:
    """Half-way between values, and as far beyond the ends."""
    if at.size == 1:
        half = 0.5 * abs(float(at[0])) or 0.5
        return np.array([at[0] - half, at[0] + half])
    middles = (at[1:] + at[:-1]) / 2
    return np.concatenate([[2 * at[0] - middles[0]], middles, [2 * at[-1] - middles[-1]]])


def _ticks(axis: Any, number: _Number, room: int = 30) -> None:
    """Names of parts, turned where they are longer than there is room; of a few values each, as long as they do not
    run into each other."""
    if number.words:
        long = axis.axis_name == "x" and sum(map(len, number.words)) > room
        turned = {"rotation": 20, "ha": "right"} if long else {}
        axis.set_ticks(number.at, [textwrap.fill(word, 16) for word in number.words], **turned)
        return
    gaps = np.diff(np.unique(number.at))
    if 0 < gaps.size < 7 and gaps.min() >= 0.12 * gaps.sum():
        axis.set_ticks(np.unique(number.at), [f"{value:.4g}".replace("-", "−") for value in np.unique(number.at)])


def _values_axis(ax: Axes, known: NDArray[Any], unit: Shown) -> None:
    """Rounding is no difference; counts go in whole steps."""
    if not known.size:
        ax.set_yticks([])
        return
    low, high = float(known.min()), float(known.max())
    half = max(0.58 * (high - low), 1e-3 * abs(high + low) / 2, 1e-6)
    if _whole(known, unit):
        half = max(half, 0.6)
        from matplotlib.ticker import MaxNLocator

        ax.yaxis.set_major_locator(MaxNLocator("auto", integer=True, steps=[1, 2, 5, 10]))
    ax.set_ylim((low + high) / 2 - half, (low + high) / 2 + half)
    ax.ticklabel_format(axis="y", useOffset=False)


def _whole(known: NDArray[Any], unit: Shown) -> bool:
    return not unit.unit and bool((known == np.round(known)).all())
