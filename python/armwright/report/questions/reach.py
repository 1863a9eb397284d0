"""Does the tool reach every work point?"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import xarray as xr

from armwright import pictures
from armwright.report.cuts import richest, upright_cut
from armwright.report.document import Column, Entry, Picture, Table, Verdict
from armwright.report.found import Found
from armwright.report.png import picture
from armwright.report.question import Question, Told
from armwright.report.tabled import Of, table
from armwright.results.summary import summary_lines

STUDIES = ("check_targets", "reach_map", "outlines")
_NAMED = 3  # points that are not served, in the report's answer


def _tell(found: Found) -> Told:
    checked, reach, outlines = map(found.get, STUDIES)
    told: list[str] = []
    if checked is not None:
        told = list(_answers(checked))
    lines = [] if reach is None else [", ".join(summary_lines(reach)[:2])]
    lines += [] if outlines is None else ["; ".join(summary_lines(outlines))]
    lines = [f"{line[0].upper()}{line[1:]}." for line in lines]
    if not told:
        told, lines = lines[:1], lines[1:]
    good = None if checked is None or not checked.sizes["target"] else bool(checked["served"].values.all())
    short = "" if checked is None or good is not False else _short(checked)
    return Told(
        told[0], good, [*told[1:], *lines], _pictures(found), _tables(found), settings=_settings(found), short=short
    )


def _short(checked: xr.Dataset) -> str:
    """Without the reasons, and of many points the first."""
    served = checked["served"].values
    lost = [str(name) for name in checked["target"].values[~served]]
    more = f" and {len(lost) - _NAMED} more" if len(lost) > _NAMED else ""
    return f"{int(served.sum())} of {served.size} work points are served; NOT SERVED: {'; '.join(lost[:_NAMED])}{more}."


def _answers(checked: xr.Dataset) -> Iterator[str]:
    served, names = checked["served"].values, checked["target"].values
    count, points = int(served.sum()), served.size
    if not points:
        yield "There are no work points."
        return
    lost = "; ".join(
        f"{name} ({reason})"
        for name, reason, good in zip(names, checked["reason"].values, served, strict=True)
        if not good
    )
    yield (
        f"All {points} work points are served."
        if count == points
        else (f"{count} of {points} work points are served. Not served: {lost}.")
    )
    for variable, words, factor, unit in (
        ("limit_margin", "Least room to the joint limits", 100, "% of half the range"),
        ("clearance", "Least clearance", 1000, "mm"),
    ):
        if variable not in checked or not count:
            continue
        values = np.where(served, checked[variable].values, np.inf)
        if np.isfinite(values).any():
            at = int(np.nanargmin(values))
            pair = _pair(checked, at, variable)
            yield f"{words} where the points are served: {factor * values[at]:.0f} {unit}, at {names[at]}{pair}."


def _pair(checked: xr.Dataset, at: int, variable: str) -> str:
    if variable != "clearance" or "clearance_name_a" not in checked:
        return ""
    return f" ({checked['clearance_name_a'].values[at]} and {checked['clearance_name_b'].values[at]})"


def _settings(found: Found) -> Iterator[str]:
    checked, reach = found.get("check_targets"), found.get("reach_map")
    if checked is not None and "limit" in checked.attrs:
        yield (
            f"Work points: the load is held by {checked.attrs['limit']} torques; the best posture first by "
            f"{str(checked.attrs.get('order', 'limit margin')).replace('_', ' ')}."
        )
    if reach is not None:
        a = reach.attrs
        yield (
            f"Reach: positions {a['spacing']:g} m apart, {a['directions']} directions of the tool axis, {a['spins']} "
            f"turns about it, clearance of {a['margin']:g} m kept."
        )


def _pictures(found: Found) -> Iterator[Picture]:
    units, reach, outlines = found.units, found.get("reach_map"), found.get("outlines")
    if found.scene is not None:
        yield picture(
            pictures.plan(found.scene, units=units),
            "work_points",
            "The cell from above, with its work points: which are served, and which are not",
        )
    if reach is not None:
        x, y = upright_cut(reach)
        yield picture(
            pictures.section(reach, x=x, y=y, units=units),
            "reach_section",
            "Upright section of the reach: the share of attitudes that each position is reached in",
        )
        yield picture(
            pictures.section(reach, z=richest(reach["reach_index"], "z"), units=units),
            "reach_plan",
            "Level section of the reach, at the height where most is reached",
        )
    if outlines is not None:
        yield picture(
            pictures.outlines(outlines, units=units),
            "outlines",
            "Boundary curves of the reach, in section and in plan, and the range of each axis",
        )


def _tables(found: Found) -> Iterator[Table]:
    checked, _, outlines = map(found.get, STUDIES)
    if checked is not None and checked.sizes["target"]:
        yield _points(checked)
        yield postures(checked)
    if outlines is not None:
        yield table(
            outlines,
            "joint",
            "ranges",
            "Range of each axis",
            (
                Of("joint", "axis"),
                Of("joint_lower", "from", unit="joint_unit"),
                Of("joint_upper", "to", unit="joint_unit"),
            ),
            shown=0,
        )


def _points(checked: xr.Dataset) -> Table:
    """Those that are not served first, so that a page that shows a dozen shows them."""
    checked = checked.isel(target=np.argsort(checked["served"].values, kind="stable"))
    served: list[Entry] = [Verdict("yes" if good else "NO", bool(good)) for good in checked["served"].values]
    first = [_and(row, "clearance_name_a", "clearance_name_b", " – ") for row in _each(checked)]
    gives = [_and(row, "payload_joint", "payload_part", ", ") for row in _each(checked)]
    return table(
        checked,
        "target",
        "work_points",
        "Work points",
        (
            Of("target", "work point"),
            (Column("served"), served),
            Of("reason", "why not"),
            Of("limit_margin", "room to joint limits", percent=True, digits=2),
            Of("clearance", "clearance", small=True),
            Of("clearance_wanted", "clearance wanted", small=True),
            (Column("nearest"), first),
            Of("payload", "holds", down=True),
            Of("payload_wanted", "to be held"),
            (Column("gives out first"), gives),
        ),
        note="Room to joint limits: the nearest limit's distance as a share of half that joint's range.",
    )


def postures(checked: xr.Dataset) -> Table:
    """Where the points are, and the posture at each, a column a joint."""
    columns: list[Of | tuple[Column, list[Entry]]] = [Of("target", "work point")]
    for i, axis in enumerate("xyz"):
        columns.append((Column(axis, "m", digits=4), [float(v) for v in checked["position"].values[:, i]]))
    units = checked["joint_unit"].values if "joint_unit" in checked else ["rad"] * checked.sizes["joint"]
    for k, joint in enumerate(checked["joint"].values):
        columns.append((Column(str(joint), str(units[k]), digits=4), [float(v) for v in checked["q"].values[:, k]]))
    columns += [
        Of("position_error", "off by", small=True),
        Of("solutions", "postures found"),
        Of("manipulability", "manipulability"),
    ]
    return table(
        checked,
        "target",
        "postures",
        "Best posture at each work point",
        columns,
        note="Where a point is not served, the posture is the nearest to serving it that was found, if any.",
        shown=0,
    )


def _each(checked: xr.Dataset) -> list[xr.Dataset]:
    return [checked.isel(target=i) for i in range(checked.sizes["target"])]


def _and(row: xr.Dataset, first: str, second: str, between: str) -> str:
    """The names of two variables, as far as there are any."""
    return between.join(str(row[name].item()) for name in (first, second) if name in row and str(row[name].item()))


REACH = Question("reach", "Does the tool reach every work point?", STUDIES, _tell)
