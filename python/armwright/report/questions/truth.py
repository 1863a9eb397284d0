"""How far does the tool sag, and how true does it stand?"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import xarray as xr

from armwright import pictures
from armwright.report.document import Column, Entry, Picture, Table
from armwright.report.found import Found
from armwright.report.png import picture
from armwright.report.question import Question, Told
from armwright.report.tabled import Of, table
from armwright.results.summary import summary_lines

STUDIES = ("sag", "tool_error", "stiffness", "sag_over_reach")
_LINES = 3  # of each study
_LEFT_OUT = ("not counted: ", "not looked at: ", "gives way", "greatest shares of ")  # lists and pictures tell these


def _tell(found: Found) -> Told:
    told: list[str] = []
    for result in found.those(*STUDIES):
        lines = [line for line in summary_lines(result) if not line.startswith(_LEFT_OUT)][:_LINES]
        told += [f"{line[0].upper()}{line[1:]}." for line in lines]
    off = found.get("tool_error")
    headline, short = told.pop(0).removesuffix("."), _short(found)
    notes = (
        []
        if off is None
        else ["Sag is the same each time and can be taught away; play, encoders and tolerances cannot."]
    )
    return Told(f"{headline}.", None, told, _pictures(found), _tables(found), notes, _settings(found), short=short)


def _short(found: Found) -> str:
    """Where both are known: the most that the tool sinks, and the most that it stands off besides."""
    sunk, off = found.get("sag"), found.get("tool_error")
    if sunk is None or off is None:
        return ""
    sag, worst = sunk["sag_size"].values, off["position_worst"].values
    if not np.isfinite(sag).any() or not np.isfinite(worst).any():
        return ""
    at = np.unravel_index(int(np.nanargmax(sag)), sag.shape)
    where = f" (at {sunk['at'].values[at]})" if "at" in sunk else ""
    least = "at least " if off.attrs["missing"] else ""
    return (
        f"The tool sinks by up to {1000 * float(sag[at]):.3g} mm{where}; play and tolerances add {least}"
        f"{1000 * float(np.nanmax(worst)):.3g} mm at worst."
    )


def _settings(found: Found) -> Iterator[str]:
    over = found.get("sag_over_reach")
    if over is not None:
        a = over.attrs
        where = f"positions {a['spacing']:g} m apart, tool {a['attitude']}"
        yield f"Sag over the reach: with {a['load_mass']:.4g} kg, {where}."


def _pictures(found: Found) -> Iterator[Picture]:
    sunk, off, _, over = map(found.get, STUDIES)
    units = found.units
    if sunk is not None and np.isfinite(sunk["sag_size"].values).any():
        yield picture(pictures.sag_causes(sunk, units=units), "sag", "What gives way where the tool sinks most")
    if over is not None and np.isfinite(over["sag_greatest"].values).any():
        yield picture(
            pictures.sag_over_reach(over, units=units), "sag_over_reach", "How far the tool sinks over the reach"
        )
    if off is not None and np.isfinite(off["position_worst"].values).any():
        yield picture(
            pictures.error_shares(off, units=units),
            "tool_error",
            "What makes the tool stand off, where it stands off most",
        )


def _tables(found: Found) -> Iterator[Table]:
    sunk, off, stiff, _ = map(found.get, STUDIES)
    if sunk is not None and sunk["sag_size"].ndim == 1:
        yield _sag(sunk)
        yield from _causes(sunk, "sag_size", "cause_share", "sag_causes", "What gives way")
    if off is not None and off["position_worst"].ndim == 1 and off["position_worst"].size:
        yield _error(off)
        yield from _causes(
            off, "position_worst", "position_share_worst", "error_causes", "What makes the tool stand off"
        )
    if stiff is not None and stiff["frequency"].ndim == 2 and stiff.sizes["posture"]:
        yield _stiffness(stiff, sunk)


def _lengths(values: xr.DataArray) -> list[Entry]:
    return [float(value) for value in np.linalg.norm(values.values, axis=-1)]


def _places(dataset: xr.Dataset, name: str) -> tuple[Column, list[Entry]]:
    """Work points, or rows by their number."""
    count = dataset.sizes[str(dataset["q"].dims[0])]
    told = dataset[name].values if name in dataset else [f"posture {i + 1}" for i in range(count)]
    return Column("work point" if name in dataset else "posture"), [str(value) for value in told]


def _sag(sunk: xr.Dataset) -> Table:
    return table(
        sunk,
        str(sunk["sag_size"].dims[0]),
        "sag",
        "How far the tool sinks",
        (
            _places(sunk, "at"),
            Of("load_mass", "with"),
            Of("sag_size", "sinks by", small=True),
            Of("sag_down", "downwards", small=True),
            (Column("turns by", "rad"), _lengths(sunk["sag_turn"])),
            (Column("by its own weight", "m", small=True), _lengths(sunk["sag_own"])),
            (Column("by the load", "m", small=True), _lengths(sunk["sag_load"])),
            (Column("by a push", "m", small=True), _lengths(sunk["sag_push"])),
        ),
        note="Nothing is told where no posture was found.",
    )


def _causes(dataset: xr.Dataset, size: str, share: str, name: str, title: str) -> Iterator[Table]:
    """Where it is worst."""
    sizes = dataset[size].values
    if not np.isfinite(sizes).any():
        return
    worst = int(np.nanargmax(sizes))
    shares = dataset[share].values[worst]
    order = [i for i in np.argsort(-np.nan_to_num(shares), kind="stable") if abs(np.nan_to_num(shares[i])) >= 0.0005]
    places = _places(dataset, "at" if "at" in dataset else "target")
    rows = tuple((str(dataset["cause"].values[i]), str(_kinds(dataset)[i]), float(shares[i])) for i in order)
    yield Table(
        name,
        f"{title}, at {places[1][worst]}",
        (Column("cause"), Column("kind"), Column("share", percent=True)),
        rows,
        shown=0,
    )


def _kinds(dataset: xr.Dataset) -> list[str]:
    kinds = dataset["cause_kind"]
    if "flag_meanings" not in kinds.attrs:
        return [str(value) for value in kinds.values]
    words = str(kinds.attrs["flag_meanings"]).split(" ")
    return [words[int(code)].replace("_", " ") for code in kinds.values]


def _error(off: xr.Dataset) -> Table:
    dim = str(off["position_worst"].dims[0])
    return table(
        off,
        dim,
        "tool_error",
        "How far the tool may stand off by play, encoders and tolerances",
        (
            _places(off, "target"),
            Of("position_worst", "at worst", small=True),
            Of("position_rss", "root sum of squares", small=True),
            Of("attitude_worst", "turned at worst"),
            Of("attitude_rss", "turned, root sum of squares"),
        ),
    )


def _stiffness(stiff: xr.Dataset, sunk: xr.Dataset | None) -> Table:
    columns: list[Of | tuple[Column, list[Entry]]] = [_at_points(stiff, sunk)]
    for i, axis in enumerate("xyz"):
        columns.append((Column(f"along {axis}", "N/m"), [float(v) for v in stiff["stiffness_along"].values[:, i]]))
    for i in range(stiff.sizes["mode"]):
        columns.append((Column(f"mode {i + 1}", "Hz"), [float(v) for v in stiff["frequency"].values[:, i]]))
    columns.append((Column("mode 1: mostly"), [str(v) for v in stiff["mode_cause"].values[:, 0]]))
    return table(
        stiff,
        "posture",
        "stiffness",
        "Stiffness at the tool, and natural frequencies",
        columns,
        note="Frequencies undamped, rotors held.",
    )


def _at_points(stiff: xr.Dataset, sunk: xr.Dataset | None) -> tuple[Column, list[Entry]]:
    """Their work points, where they are the postures of a sag that tells them."""
    if sunk is not None and "at" in sunk:
        known = np.isfinite(sunk["q"].values).all(axis=-1)
        if np.array_equal(sunk["q"].values[known], stiff["q"].values):
            return Column("work point"), [str(name) for name in sunk["at"].values[known]]
    return Column("posture"), [f"posture {i + 1}" for i in range(stiff.sizes["posture"])]


TRUTH = Question("truth", "How far does the tool sag, and how true does it stand?", STUDIES, _tell)
