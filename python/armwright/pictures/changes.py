"""Which change buys the most: design numbers by what a step of each is worth, alternatives by rank."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import numpy as np
import xarray as xr

from armwright.errors import InputError
from armwright.pictures.canvas import INK, NOT_SERVED, QUIET, SERVED, dress, start
from armwright.results import check_dataset
from armwright.results.unit_words import in_units, names_in
from armwright.results.units import Shown, UnitSystem, shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_BAR = 0.62


def changes(
    dataset: xr.Dataset, *, answer: str | None = None, most: int = 12, units: UnitSystem = "si", ax: Axes | None = None
) -> Axes:
    """The design numbers that gain most in an answer (by default the one that alternatives are ranked by): what a tenth
    of each is worth, made the better way, with the error of the derivative.

    >>> numbers = ["tool.mass", "arm.links[upper arm].mass"]
    >>> ax = pictures.changes(cell.changes(numbers, answers=[aw.ask.payload("over the tub")]))
    >>> ax.get_xlabel()
    'gain in payload at over the tub (kg)'
    """
    k, unit = _answer(dataset, answer, units)
    gains = np.nan_to_num(dataset["gain"].values[:, k], nan=0.0)
    order = [i for i in np.argsort(-gains, kind="stable") if gains[i] > 0][:most]
    ax = start(ax, 8.0, 1.5 + 0.3 * max(len(order), 2))
    labels = []
    for row, i in enumerate(order):
        step = shown(str(dataset["number_unit"].values[i]), units)
        way = str(dataset["better_way"].values[i, k])
        error = float(dataset["derivative_error"][i, k]) * float(dataset["step"][i]) * unit.factor
        ax.barh(row, gains[i] * unit.factor, height=_BAR, color=SERVED, hatch="" if way == "more" else "////",
                edgecolor="white", linewidth=0, xerr=error, ecolor=INK, gid=str(dataset["number"].values[i]))
        ax.annotate(f"{step.number(float(dataset['step'][i]))} {way}", (gains[i] * unit.factor, row), xytext=(6, 0),
                    textcoords="offset points", va="center", fontsize=8, color=INK)
        labels.append(short_name(str(dataset["number"].values[i])))
    _rows(ax, labels, "nothing that was asked about gains anything")
    ax.set_xlim(0, 1.25 * max((gains[i] for i in order), default=1.0) * unit.factor)
    name, better = str(dataset["answer"].values[k]), str(dataset["answer_better"].values[k])
    ax.set_xlabel(unit.label(f"gain in {name}"))
    value, where = float(dataset["answer_value"][k]), str(dataset["answer_where"].values[k])
    now = f"now {unit.number(value)}" + (f", {where}" if where else "") if np.isfinite(value) else "no answer"
    dress(ax, f"What buys {better} {name}" if better == "more" else f"What lowers {name}",
          f"{dataset.attrs['arm_name']}: {now}\nby derivatives, posture held; a tenth of each number, "
          + in_units("positions 10 mm", units))
    ax.grid(False, axis="y")
    return ax


def alternatives(
    dataset: xr.Dataset, *, answer: str | None = None, most: int = 12, units: UnitSystem = "si", ax: Axes | None = None
) -> Axes:
    """The alternatives by rank: what each gains in an answer (by default the one that they are ranked by), and what it
    comes to for which price; those that are worse, or have no answer, told apart, those that change nothing counted.

    >>> fork = aw.Alternative({"tool.mass": "1.2 kg"}, price=90, name="lighter fork")
    >>> worth = cell.changes(["tool.mass"], [fork], [aw.ask.payload("over the tub")])
    >>> pictures.alternatives(worth).get_xlabel()
    'gain in payload at over the tub (kg)'
    """
    k, unit = _answer(dataset, answer, units)
    idle = dataset["alternative_gain"].values[:, k] == 0
    every = np.argsort(dataset["rank"].values, kind="stable")
    order = [i for i in every if not idle[i]][:most]
    ax = start(ax, 8.0, 1.5 + 0.3 * max(len(order), 2))
    gains = dataset["alternative_gain"].values[:, k] * unit.factor
    for row, i in enumerate(order):
        price, name = float(dataset["price"][i]), str(dataset["alternative"].values[i])
        cost = "" if np.isnan(price) else f"{price:g} {dataset.attrs['currency']}"
        good = gains[i] >= 0
        if np.isnan(gains[i]):
            reason = in_units(str(dataset["alternative_reason"].values[i, k]), units, names_in(dataset))
            words, at = reason or "no answer", 0.0
        else:
            at = float(gains[i])
            ax.barh(row, at, height=_BAR, color=SERVED if good else NOT_SERVED, hatch="" if good else "////",
                    edgecolor="white", linewidth=0, gid=name)
            words = f"to {unit.number(float(dataset['alternative_value'][i, k]))}" + (f" for {cost}" if cost else "")
        ax.annotate(words, (max(at, 0.0), row), xytext=(6, 0), textcoords="offset points", va="center", fontsize=8,
                    color=INK if good else NOT_SERVED)
    nothing = "no alternative changes anything" if len(every) else "no alternatives were told"
    _rows(ax, [str(dataset["alternative"].values[i]) for i in order], nothing)
    known = gains[order][np.isfinite(gains[order])] if order else np.zeros(0)
    span = max(float(known.max(initial=0.0)) - min(float(known.min(initial=0.0)), 0.0), 1e-12)
    ax.set_xlim(min(float(known.min(initial=0.0)), 0.0) - 0.02 * span, float(known.max(initial=0.0)) + 0.45 * span)
    ax.axvline(0, color=QUIET, linewidth=0.8)
    ax.set_xlabel(unit.label(f"gain in {dataset['answer'].values[k]}"))
    value = float(dataset["answer_value"][k])
    left_out = f"; {idle.sum()} others change nothing" if idle.any() else ""
    dress(ax, "Alternatives by gain per price",
          f"{dataset.attrs['arm_name']}: now {unit.number(value) if np.isfinite(value) else 'no answer'}; "
          f"all postures chosen anew{left_out}")
    ax.grid(False, axis="y")
    return ax


def short_name(path: str) -> str:
    """A design number as a label: "arm.joints[axis 2].drive.stages[gear].ratio" is "axis 2, gear: ratio"."""
    names = re.findall(r"\[([^\[\]]*)\](?=\.|$)", path)
    if not names:
        return path.replace(".", " ").replace("_", " ")
    end = path.rpartition("]")[2].lstrip(".").replace(".", " ").replace("_", " ").removeprefix("drive ")
    return f"{', '.join(names)}: {end}" if end else ", ".join(names)


def _rows(ax: Axes, labels: list[str], nothing: str) -> None:
    """One label a bar, the first at the top."""
    if not labels:
        ax.annotate(nothing, (0.5, 0.5), xycoords="axes fraction", ha="center", va="center", color=QUIET)
    ax.set_yticks(range(len(labels)), labels)
    ax.set_ylim(max(len(labels), 1) - 0.4, -0.6)


def _answer(dataset: xr.Dataset, answer: str | None, units: UnitSystem) -> tuple[int, Shown]:
    """The place of an answer, and how it is shown."""
    what = check_dataset(dataset)
    if what.name != "changes":
        raise InputError.of("dataset", f"a result of {what.name}", "a result of changes")
    names = [str(name) for name in dataset["answer"].values]
    name = str(dataset.attrs["ranked_by"]) if answer is None else answer
    if name not in names:
        raise InputError.of("answer", repr(answer), "one of " + ", ".join(names))
    return names.index(name), shown(str(dataset["answer_unit"].values[names.index(name)]), units)
