"""If the power fails, does the arm stay up, and how far does it travel before it stands?"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import xarray as xr

from armwright import pictures
from armwright.report.document import Column, Entry, Picture, Quantity, Table, Verdict
from armwright.report.found import Found, posture_words
from armwright.report.png import picture
from armwright.report.question import Question, Told
from armwright.report.tabled import Of, plain, quantity, table, torque_unit
from armwright.results.summary import summary_lines
from armwright.results.words import ROUNDING

STUDIES = ("holding", "stop", "stop_table")


def _tell(found: Found) -> Told:
    holding, stop, stops = map(found.get, STUDIES)
    told: list[str] = []
    good = None
    if holding is not None:
        told, good = [_held(holding)], bool(holding["holds"].values.all())
    if stop is not None:
        told += _sentences(stop)[1 if stop["stop_time"].ndim == 0 else 0 :]  # its end is the table's title
    if stops is not None:  # a row an axis stands in the table
        axes = tuple(f"{axis}, category " for axis in stops["axis"].values)
        told += [line for line in _sentences(stops) if not line.lower().startswith(tuple(map(str.lower, axes)))]
    short = "" if holding is None or good else _short(holding)
    return Told(told[0], good, told[1:], _pictures(found), _tables(found), settings=_settings(found), short=short)


def _short(holding: xr.Dataset) -> str:
    """Of many axes that are not held the first."""
    lost = np.flatnonzero(~holding["holds"].values)
    first, more = _lost(holding.isel(joint=int(lost[0]))), f" and {lost.size - 1} more" if lost.size > 1 else ""
    drop = 1000 * float(holding["drop"].max())
    return f"NOT HELD without power: {first}{more}; the tool drops by up to {drop:.0f} mm."


def _held(holding: xr.Dataset) -> str:
    holds, names = holding["holds"].values, holding["joint"].values
    factor = holding["factor"].values
    judged = np.isfinite(factor)
    drop = f"the tool drops by {1000 * float(holding['drop'].max()):.0f} mm at most when the power goes at rest"
    if holds.all():
        least = (
            f"; least: {names[judged][np.argmin(factor[judged])]}, {factor[judged].min():.3g} times"
            if judged.any()
            else ""
        )
        return f"The brakes hold every axis in every posture{least}; {drop}."
    lost = "; ".join(_lost(holding.isel(joint=int(k))) for k in np.flatnonzero(~holds))
    return f"NOT HELD without power: {lost}. {drop[0].upper()}{drop[1:]}."


def _lost(row: xr.Dataset) -> str:
    slides = str(row["joint_unit"].item()) == "m"
    need = f"{row['joint'].item()} (at worst {float(row['torque_bound']):.3g} {'N' if slides else 'N·m'}, "
    held = float(row["brake_torque"])
    return need + ("no brake)" if np.isnan(held) else f"{held:.3g} held by its brake)")


def _sentences(result: xr.Dataset) -> list[str]:
    return [f"{line[0].upper()}{line[1:]}." for line in summary_lines(result)]


def _settings(found: Found) -> Iterator[str]:
    for result, words in ((found.get("stop"), "Stop"), (found.get("stop_table"), "Table of stops")):
        if result is not None:
            a = result.attrs
            load = f"; load of {a['load_mass']:.4g} kg" if "load_mass" in a else ""
            yield f"{words}: nothing happens for {a['reaction']:g} s after the signal{load}."
    if found.get("holding") is not None:
        yield (
            "Holding: a bound over all postures, by weight alone; friction does not count. Brakes hold by their ratio "
            "alone."
        )


def _pictures(found: Found) -> Iterator[Picture]:
    holding, stop, _ = map(found.get, STUDIES)
    if holding is not None:
        yield picture(
            pictures.holding(holding, units=found.units),
            "holding",
            "What each axis has to hold at worst, as a share of what its brake holds",
        )
    if stop is not None and "time" in stop:
        yield picture(
            pictures.stop(stop, units=found.units),
            "stop",
            "The motion of each axis and of the tool point after the stop signal",
        )


def _tables(found: Found) -> Iterator[Table]:
    holding, stop, stops = map(found.get, STUDIES)
    if holding is not None:
        yield _holding(holding)
    if stop is not None and stop["stop_time"].ndim == 0:
        yield _stop(stop)
    if stops is not None:
        yield _stops(stops)
        yield _asked(stops)


def _holding(holding: xr.Dataset) -> Table:
    rows: list[tuple[Entry, ...]] = []
    for k in range(holding.sizes["joint"]):
        row = holding.isel(joint=k)
        unit = str(row["joint_unit"].item())
        heavy = float(row["torque_bound"]) > ROUNDING
        torques = [
            Quantity(float(row[name]), torque_unit(unit))
            for name in ("torque_bound", "torque_found", "brake_torque", "brake_torque_driven_back")
        ]
        good = bool(row["holds"])
        rows.append(
            (
                str(row["joint"].item()),
                *torques,
                float(row["factor"]),
                Verdict("yes" if good else "NO", good),
                float(row["drop"]),
                float(row["drop_time"]),
                str(row["drop_end"].item()) or None,
                quantity(float(row["fall_speed"]), unit, per="/s"),
                posture_words(row["worst_posture"].values, _units(holding)) if heavy else "",
            )
        )
    joints = ", ".join(map(str, holding["posture_joint"].values))
    return Table(
        "holding",
        "What each axis has to hold, and what its brake holds",
        (
            Column("axis"),
            Column("at worst, proven"),
            Column("most found"),
            Column("brake holds"),
            Column("with losses that help"),
            Column("factor", "1"),
            Column("holds"),
            Column("tool drops", "m", small=True),
            Column("in", "s"),
            Column("ends"),
            Column("moves at up to"),
            Column("worst posture"),
        ),
        tuple(rows),
        f"Postures in the order {joints}. Drop, time and speed: when the power goes at rest in that posture.",
    )


def _units(holding: xr.Dataset) -> list[str]:
    """Of a posture's joints; axes that coupling joins are told joint by joint all the same."""
    by_name = dict(zip(map(str, holding["joint"].values), map(str, holding["joint_unit"].values), strict=True))
    return [by_name.get(str(name), "rad") for name in holding["posture_joint"].values]


def _stop(stop: xr.Dataset) -> Table:
    title = f"Stop of category {stop.attrs['category']}: {float(stop['stop_time']):.3g} s to {stop['end'].item()}"
    return table(
        stop,
        "joint",
        "stop",
        title,
        (
            Of("joint", "axis"),
            Of("start", "from", unit="joint_unit"),
            Of("start_speed", "at", unit="joint_unit", per="/s"),
            Of("stopped_at", "to", unit="joint_unit"),
            Of("travel", "travel", unit="joint_unit"),
            Of("top_speed", "greatest speed", unit="joint_unit", per="/s"),
            Of("impact_speed", "meets the end of its range at", unit="joint_unit", per="/s"),
            Of("impact_time", "after"),
            Of("brake_energy", "energy into its brake"),
            Of("brake_energy_share", "of what it takes", percent=True),
        ),
        shown=0,
    )


_ROW = ("axis", "category", "speed_share", "load_share", "extension_share")


def _stops(stops: xr.Dataset) -> Table:
    """The rows at full speed, load and extension first: they are what a page shows."""
    flat = stops[[name for name in stops.data_vars if stops[name].dims == _ROW]].stack(row=_ROW)
    full = np.logical_and.reduce([flat[name].values == stops[name].values.max() for name in _ROW[2:]])
    order = np.argsort(~full, kind="stable")
    rows: list[tuple[Entry, ...]] = []
    units = dict(zip(map(str, stops["axis"].values), map(str, stops["axis_unit"].values), strict=True))
    for i in order:
        row = flat.isel(row=int(i))
        axis = str(row["axis"].item())
        rows.append(
            (
                axis,
                str(row["category"].item()),
                *(float(row[name]) for name in _ROW[2:]),
                float(row["stop_time"]),
                quantity(float(row["travel"]), units[axis]),
                *(
                    plain(row[name].item())
                    for name in (
                        "tool_travel",
                        "tool_path",
                        "tool_drop",
                        "tool_top_speed",
                        "brake_energy",
                        "stage_share",
                        "end",
                    )
                ),
            )
        )
    return Table(
        "stops",
        "Stopping times and distances",
        (
            Column("axis"),
            Column("category"),
            Column("speed", percent=True),
            Column("load", percent=True),
            Column("extension", percent=True),
            Column("time", "s"),
            Column("travel"),
            Column("tool point: from start", "m", small=True),
            Column("its way", "m", small=True),
            Column("its drop", "m", small=True),
            Column("its greatest speed", "m/s"),
            Column("energy into the brake", "J"),
            Column("stage loaded most", percent=True),
            Column("ends"),
        ),
        tuple(rows),
        "Speed, load and extension as shares of the greatest, as ISO 10218-1 (2011), annex B, asks for. Stage "
        "loaded most: of its momentary peak.",
        shown=int(full.sum()),
    )


def _asked(stops: xr.Dataset) -> Table:
    rows: list[tuple[Entry, ...]] = []
    units = [str(unit) for unit in stops["joint_unit"].values]
    for i, share in enumerate(stops["extension_share"].values):
        rows.append(
            (float(share), float(stops["extension"].values[i]), posture_words(stops["posture"].values[i], units))
        )
    joints = ", ".join(map(str, stops["joint"].values))
    return Table(
        "stop_postures",
        "Postures of those stops",
        (
            Column("extension", percent=True),
            Column("distance from axis 1", "m"),
            Column("posture"),
        ),
        tuple(rows),
        f"Postures in the order {joints}. {stops.attrs['rule']!s}",
        shown=0,
    )


FAILURE = Question("failure", "If the power fails, does it stay up, and how far does it move?", STUDIES, _tell)
