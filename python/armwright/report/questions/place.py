"""Where should the base stand?"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import xarray as xr

from armwright import pictures
from armwright.report.document import Column, Entry, Picture, Quantity, Table, Verdict
from armwright.report.found import Found, posture_words
from armwright.report.png import picture
from armwright.report.question import Question, Told
from armwright.report.tabled import Of, table
from armwright.results.summary import summary_lines

STUDIES = ("placement",)


def _tell(found: Found) -> Told:
    placed = found.results["placement"]
    lines = [f"{line[0].upper()}{line[1:]}." for line in summary_lines(placed)]
    a = placed.attrs
    settings = [f"Clearance of {a['margin']:g} m kept; {a['limit']} torques; {a['places_tried']} places tried."]
    reasons = tuple(f"{name}: " for name in placed["target"].values)  # they stand in the table
    more = [line for line in lines[1:] if not line.lower().startswith(tuple(map(str.lower, reasons)))]
    short = lines[0].partition(", worst ")[0].partition(", against ")[0].removesuffix(".") + "."
    return Told(lines[0], None, more, _pictures(found, placed), _tables(placed), settings=settings, short=short)


def _pictures(found: Found, placed: xr.Dataset) -> Iterator[Picture]:
    units = found.units
    if "plan_count" in placed:
        yield picture(
            pictures.placement_plan(placed, units=units),
            "placement_served",
            "How many work points are served from each place, in plan",
        )
        if np.isfinite(placed["plan_worst"].values).any():
            yield picture(
                pictures.placement_plan(placed, show="worst", units=units),
                "placement_worst",
                "The worst of the points served from each place, in plan",
            )
    else:
        yield picture(pictures.placement_along(placed, units=units), "placement", "What each place tried serves")
    if placed.sizes["aim"] > 1:
        yield picture(
            pictures.placement_set(placed, units=units), "placement_set", "The places that no other beats in all aims"
        )


def _tables(placed: xr.Dataset) -> Iterator[Table]:
    yield _choices(placed)
    best = int(placed.attrs["best"])
    one = placed.isel(choice=best)
    units = (
        [str(unit) for unit in placed["joint_unit"].values]
        if "joint_unit" in placed
        else ["rad"] * placed.sizes["joint"]
    )
    served: list[Entry] = [Verdict("yes" if good else "NO", bool(good)) for good in one["served"].values]
    told = [posture_words(q, units) for q in one["q"].values]
    yield table(
        one,
        "target",
        "placed",
        "Work points from the best place",
        (
            Of("target", "work point"),
            (Column("served"), served),
            Of("reason", "why not"),
            Of("limit_margin", "room to joint limits", percent=True),
            Of("clearance_spare", "clearance to spare", small=True),
            Of("payload_spare", "mass to spare"),
            (Column("posture"), told),
        ),
        note="Postures in the order " + ", ".join(map(str, placed["joint"].values)) + ".",
    )


def _choices(placed: xr.Dataset) -> Table:
    aims = [str(name) for name in placed["aim"].values]
    units = [str(unit) for unit in placed["aim_unit"].values]
    heads = [
        Of(f"place_{name}", words, digits=4)
        for name, words in (
            ("x", "x"),
            ("y", "y"),
            ("z", "z"),
            ("yaw", "turned"),
            ("turn", "own turn"),
            ("track", "parked at"),
        )
    ]
    worst: list[tuple[Column, list[Entry]]] = []
    for k, (aim, unit) in enumerate(zip(aims, units, strict=True)):
        values = [
            Quantity(float(value), unit, small=unit == "m", percent=unit == "1")
            for value in placed["worst"].values[:, k]
        ]
        worst += [
            (Column(f"worst {aim.replace('_', ' ')}"), list(values)),
            (Column("at"), [str(name) for name in placed["worst_at"].values[:, k]]),
        ]
    ranks: list[Entry] = [f"{i + 1}" for i in range(placed.sizes["choice"])]
    return table(
        placed,
        "choice",
        "places",
        "Places found, the best first",
        (
            (Column("place"), ranks),
            *heads,
            Of("place_attitude", "stands on"),
            Of("served_count", "points served"),
            *worst,
        ),
    )


PLACE = Question("place", "Where should the base stand?", STUDIES, _tell)
