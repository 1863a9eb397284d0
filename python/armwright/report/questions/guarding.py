"""Where do limit switches, soft limits and fences go?"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import xarray as xr

from armwright import pictures
from armwright.report.document import Column, Entry, Table
from armwright.report.found import Found
from armwright.report.png import picture
from armwright.report.question import Question, Told
from armwright.report.tabled import Of, quantity, table
from armwright.results.summary import summary_lines

STUDIES = ("switches", "separation")


def _tell(found: Found) -> Told:
    switches, separation = map(found.get, STUDIES)
    told: list[str] = []
    good = None
    if switches is not None:
        limited = np.isfinite(switches["hard_stop"].values).all(axis=1)
        stops = np.isfinite(switches["soft_limit"].values).all(axis=1)
        lost = ", ".join(map(str, switches["joint"].values[limited & ~stops]))
        good = not lost
        told.append(
            f"NO STOP within the range of {lost}, wherever the switch is put."
            if lost
            else "Every axis with ends stops within its range, with soft limits and switches as told."
        )
    if separation is not None:
        lines = summary_lines(separation)
        told.append(f"Safeguards stand off the danger zone, {lines[0]}: {'; '.join(lines[1:-1])}.")
    drawn = (
        []
        if switches is None
        else [
            picture(
                pictures.switches(switches, units=found.units),
                "switches",
                "Soft limit, limit switch and hard stop of each axis within its range",
            )
        ]
    )
    settings = [] if switches is None else [f"Travels of stops: {switches.attrs['rule']}."]
    return Told(told[0], good, told[1:], drawn, _tables(found), settings=settings)


def _tables(found: Found) -> Iterator[Table]:
    switches, separation = map(found.get, STUDIES)
    if switches is not None:
        yield _ends(switches)
    if separation is not None:
        a = separation.attrs
        yield table(
            separation,
            "safeguard",
            "safeguards",
            "Least distance of safeguards from the danger zone",
            (
                Of("safeguard", "safeguard"),
                Of("distance", "distance", small=True, digits=4),
                Of("approach_speed", "approach at"),
                Of("intrusion", "for what reaches in", small=True, digits=4),
            ),
            note=f"ISO 13855: S = K T + C, for a stop of {a['stop_time']:.3g} s, a light curtain that resolves "
            f"{1000 * a['resolution']:.0f} mm, {1000 * a['reach_through']:.0f} mm through a guard's opening.",
        )


def _ends(switches: xr.Dataset) -> Table:
    rows: list[tuple[Entry, ...]] = []
    for k, joint in enumerate(switches["joint"].values):
        unit = str(switches["joint_unit"].values[k])
        for e, end in enumerate(switches["end"].values):
            values = [
                float(switches[name].values[k, e])
                for name in ("soft_limit", "limit_switch", "hard_stop", "controlled_travel", "brake_travel")
            ]
            told = [quantity(value, unit) if np.isfinite(value) else None for value in values]
            rows.append((str(joint), str(end), *told))
    return Table(
        "switches",
        "Soft limits and limit switches",
        (
            Column("axis"),
            Column("end"),
            Column("soft limit", digits=4),
            Column("limit switch", digits=4),
            Column("hard stop", digits=4),
            Column("controlled stop travels"),
            Column("stop by brakes travels"),
        ),
        tuple(rows),
    )


GUARDING = Question("guarding", "Where do limit switches, soft limits and fences go?", STUDIES, _tell)
