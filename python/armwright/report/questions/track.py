"""Is a track worth it, and how long?"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import xarray as xr

from armwright import pictures
from armwright.report.document import Column, Entry, Picture, Table, Verdict
from armwright.report.found import Found
from armwright.report.png import picture
from armwright.report.question import Question, Told
from armwright.report.tabled import Of, table
from armwright.results.summary import summary_lines

STUDIES = ("track_worth", "track_intervals")


def _tell(found: Found) -> Told:
    worth, intervals = map(found.get, STUDIES)
    told: list[str] = []
    if worth is not None:
        told = summary_lines(worth)[:1]
    if intervals is not None:
        lost = [str(name) for name in intervals["target"].values[~intervals["served"].values]]
        lines = [line for line in summary_lines(intervals) if not line.endswith(": from nowhere")]
        lines += [f"from nowhere: {'; '.join(lost)}"] if lost else []
        told += [f"{line[0].upper()}{line[1:]}." for line in lines]
    settings = [
        f"The line is looked at from {result.attrs['track_lower']:g} m to {result.attrs['track_upper']:g} m; clearance "
        f"of {result.attrs['margin']:g} m kept."
        for result in found.those(*STUDIES)[:1]
    ]
    short = "" if worth is None else "; ".join(told[0].removesuffix(".").split("; ")[:2]) + "."
    return Told(told[0], None, told[1:], _pictures(found), _tables(found), settings=settings, short=short)


def _pictures(found: Found) -> Iterator[Picture]:
    worth, intervals = map(found.get, STUDIES)
    if worth is not None:
        yield picture(
            pictures.track_worth(worth, units=found.units),
            "track_worth",
            "What each stroke of a track brings, beside the arm on a fixed foot",
        )
    if intervals is not None:
        yield picture(
            pictures.track_intervals(intervals, units=found.units),
            "track_intervals",
            "From where on the track each work point is served",
        )


def _tables(found: Found) -> Iterator[Table]:
    worth, intervals = map(found.get, STUDIES)
    if worth is not None:
        yield _worth(worth)
        yield _served(worth)
    if intervals is not None:
        yield _intervals(intervals)
        yield table(
            intervals,
            "served_count",
            "strokes",
            "Shortest stroke for so many work points",
            (
                Of("served_count", "work points", digits=6),
                Of("stroke_length", "stroke", digits=4),
                Of("stroke_lower", "from", digits=4),
            ),
            shown=0,
        )


def _worth(worth: xr.Dataset) -> Table:
    currency = str(worth.attrs.get("currency", "")) or "money"
    cost: list[tuple[Column, list[Entry]]] = []
    if "cost" in worth:
        cost = [(Column(f"cost ({currency})", "1", digits=6), [float(value) for value in worth["cost"].values])]
    return table(
        worth,
        "stroke",
        "track_worth",
        "What each stroke brings (0: no track)",
        (
            Of("stroke", "stroke", digits=4),
            Of("stroke_lower", "from", digits=4),
            Of("served_count", "points served"),
            Of("limit_margin", "room to joint limits", percent=True),
            Of("clearance", "clearance", small=True),
            Of("payload_spare", "mass to spare"),
            Of("cycle_time", "cycle"),
            Of("force", "force at rest"),
            Of("moment", "moment at rest"),
            Of("cycle_force", "force in the cycle"),
            Of("cycle_moment", "moment in the cycle"),
            *cost,
        ),
        note="Room, clearance and spare mass: the worst of the points served. Force and moment: on rails or foot."
        + _no_cycle(worth),
    )


def _no_cycle(worth: xr.Dataset) -> str:
    """Why the cycle cannot be run, a sentence a stroke."""
    if "cycle_reason" not in worth:
        return ""
    pairs = zip(worth["stroke"].values, worth["cycle_reason"].values, strict=True)
    return "".join(f" Stroke {stroke:g} m: no cycle, {reason}." for stroke, reason in pairs if str(reason))


def _served(worth: xr.Dataset) -> Table:
    heads = [Column("stroke", "m", digits=4), *(Column(str(name)) for name in worth["target"].values)]
    rows: list[tuple[Entry, ...]] = [
        (float(stroke), *(Verdict("yes" if good else "NO", bool(good)) for good in served))
        for stroke, served in zip(worth["stroke"].values, worth["served"].values, strict=True)
    ]
    return Table("served_by_stroke", "Work points served with each stroke", tuple(heads), tuple(rows))


def _intervals(intervals: xr.Dataset) -> Table:
    rows: list[tuple[Entry, ...]] = []
    parked = intervals["parking_position"].values
    for k, name in enumerate(intervals["target"].values):
        of = int(intervals["parking_of"].values[k])
        ends = zip(intervals["lower"].values[k], intervals["upper"].values[k], strict=True)
        known = [pair for pair in ends if not np.isnan(pair[0])]
        if not known:
            rows.append((str(name), "no position", None, None))
        for lower, upper in known:
            rows.append((str(name), float(lower), float(upper), float(parked[of]) if of >= 0 else None))
    return Table(
        "track_intervals",
        "From where on the track each work point is served",
        (
            Column("work point"),
            Column("from", "m", digits=4),
            Column("to", "m", digits=4),
            Column("parked at", "m", digits=4),
        ),
        tuple(rows),
        "Parked at: of the fewest positions from which all points that can be served are.",
        shown=0,
    )


TRACK = Question("track", "Is a track worth it, and how long?", STUDIES, _tell)
