"""What does each part have to bear, and does it?"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
import xarray as xr

from armwright import pictures
from armwright.report.document import Column, Entry, Picture, Quantity, Table, Verdict
from armwright.report.figures import number
from armwright.report.found import Found
from armwright.report.png import picture
from armwright.report.question import Question, Told
from armwright.results.part_summary import Least, least_safeties, where
from armwright.results.part_variables import GROUPS, SITUATIONS
from armwright.results.summary import summary_lines
from armwright.results.words import LONG_LIFE

STUDIES = ("part_loads", "joint_wrenches", "bearings", "link_stress", "base_loads", "track_loads")
_HOUR = 3600.0
_SLIGHT = 0.05  # N, N m; less is none
_NO_LIFE = "none told: see Mind"
_NAMED = 4  # parts in the headline
_DOZEN = 12  # rows of a group on a page, at most
_NOTES = {
    "bearing": "Radial load, axial load and tilting moment are those of the row with the least static safety, "
    "side by side; the greatest of each over all rows may be greater."
}


def _tell(found: Found) -> Told:
    loads = found.get("part_loads")
    if loads is None:
        return _apart(found)
    least = least_safeties(loads)
    told, short = list(_answers(loads, least)), _short(loads, least)
    judged = [one for one in least if not math.isnan(one.wanted)]
    drawn = _drawn(found)
    overview = picture(
        pictures.part_safeties(loads),
        "part_loads",
        "Least safety of each part over what is wanted of it; the same figures stand in the tables",
    )
    return Told(
        told[0],
        _good(judged),
        told[1:],
        [overview],
        [
            _table(loads, least, code, drawn, found.get("drive_check") is not None)
            for code in sorted({int(code) for code in loads["group"].values})
        ],
        [
            "Safety: what a part bears over what it has to bear; more is better. A part that was not looked at is not "
            "safe for that."
        ],
        short=short,
    )


def _good(judged: list[Least]) -> bool | None:
    """Nothing is said to be as wanted as long as something was not looked at."""
    shares = [one.share for one in judged]
    if any(share < 1 for share in shares):
        return False
    return None if not shares or any(map(math.isnan, shares)) else True


def _apart(found: Found) -> Told:
    """Where the studies of single kinds of parts alone were asked."""
    lines = [
        line
        for result in found.those(*STUDIES)
        for line in summary_lines(result)
        if not line.startswith(("not looked at: ", "to mind: ", "not counted: "))
    ]
    drawn = [each for several in _drawn(found).values() for each in several]
    return Told(lines[0], None, lines[1:], drawn)


def _answers(loads: xr.Dataset, least: list[Least]) -> Iterator[str]:
    """What is too little, what was not looked at, what is weakest, what lasts shortest."""
    judged = [one for one in least if not math.isnan(one.wanted)]
    known = [one for one in judged if not math.isnan(one.safety)]
    weak = sorted((one for one in known if one.share < 1), key=lambda one: one.share)
    if weak:
        more = f"; and {len(weak) - _NAMED} more" if len(weak) > _NAMED else ""
        yield (
            f"{len(weak)} of {len(known)} figures that could be judged are less than wanted: "
            + "; ".join(f"{_name(loads, one)}, {one.safety:.2f} of {one.wanted:g}" for one in weak[:_NAMED])
            + f"{more}."
        )
    elif known:
        one = min(known, key=lambda one: one.share)
        yield (
            f"All {len(known)} figures that could be judged are as wanted; the weakest: {_name(loads, one)}, "
            f"safety {one.safety:.2f} of {one.wanted:g}."
        )
    lost = list(dict.fromkeys(str(loads["part"].values[one.figure]) for one in judged if math.isnan(one.safety)))
    yield f"Not looked at, for want of data: {'; '.join(lost)}." if lost else "Every part that is told could be judged."
    lives = loads["value"].values[loads["quantity"].values == "life"]
    finite = lives[np.isfinite(lives)]
    if finite.size:
        shortest = int(np.argmin(np.where(np.isfinite(lives), lives, np.inf).min(axis=1)))
        name = loads["part"].values[loads["quantity"].values == "life"][shortest]
        percent = 100 * float(loads.attrs["reliability"])
        yield f"Shortest life of bearings and blocks at {percent:g} %: {_life(finite.min())} of this duty ({name})."
    absent = [words for key, words in SITUATIONS.items() if key not in loads["situation"].values]
    if absent:
        yield f"Nothing was looked at {' nor '.join(absent)}."


def _short(loads: xr.Dataset, least: list[Least]) -> str:
    """The weakest alone, and how many were not looked at."""
    judged = [one for one in least if not math.isnan(one.wanted)]
    known = [one for one in judged if not math.isnan(one.safety)]
    parts = {str(loads["part"].values[one.figure]) for one in judged if math.isnan(one.safety)}
    lost = f"; {len(parts)} part{'s' if len(parts) > 1 else ''} NOT LOOKED AT" if parts else ""
    if not known:
        return f"No part could be judged{lost}."
    weak = sum(one.share < 1 for one in known)
    one = min(known, key=lambda one: one.share)
    part, what = (str(loads[name].values[one.figure]) for name in ("part", "quantity"))
    worst = f"{part}, {what}, {SITUATIONS[str(loads['situation'].values[one.situation])]}"
    begin = f"TOO LITTLE: {weak} of {len(known)} safeties of parts" if weak else f"All {len(known)} safeties as wanted"
    return f"{begin}; least: {worst}, {one.safety:.2f} of {one.wanted:g} wanted{lost}."


def _name(loads: xr.Dataset, one: Least) -> str:
    part, what = (str(loads[name].values[one.figure]) for name in ("part", "quantity"))
    return f"{part} ({what}, {SITUATIONS[str(loads['situation'].values[one.situation])]})"


def _table(loads: xr.Dataset, least: list[Least], code: int, drawn: dict[str, list[Picture]], elsewhere: bool) -> Table:
    """What is judged first, and of that the weakest; a page shows no more of it. ``elsewhere``: the drives' shares
    stand with the moves."""
    group = list(GROUPS)[code]
    mine = [least[int(i)] for i in np.flatnonzero(loads["group"].values == code)]
    mine.sort(key=_by_weight)
    rows: list[tuple[Entry, ...]] = [(str(loads["part"].values[one.figure]), *_row(loads, one)) for one in mine]
    judged = sum(not math.isnan(one.wanted) for one in mine)
    told_there = group == "drive" and elsewhere and (not judged or all(one.share >= 1 for one in mine))
    situations = [Column(SITUATIONS[str(key)]) for key in loads["situation"].values]
    title = GROUPS[group]
    return Table(
        f"parts_{group.replace(' ', '_')}",
        title[0].upper() + title[1:],
        (
            Column("part"),
            Column("figure"),
            *situations,
            Column("bears"),
            Column("safety wanted", "1"),
            Column("verdict"),
            Column("least safety where"),
        ),
        tuple(rows),
        _NOTES.get(group, ""),
        tuple(drawn.get(group, ())),
        0 if told_there else min(judged, _DOZEN) or None,
    )


def _by_weight(one: Least) -> tuple[bool, bool, float]:
    """Too little first, then what is not known, then the others; loads by which nothing is judged last."""
    unknown = math.isnan(one.share)
    return math.isnan(one.wanted), not unknown and one.share >= 1, 0.0 if unknown else one.share


def _row(loads: xr.Dataset, one: Least) -> Iterator[Entry]:
    row = loads.isel(figure=one.figure)
    unit = str(row["unit"].item())
    yield str(row["quantity"].item())
    judged = not math.isnan(one.wanted)
    for value, safety, looked_at in zip(
        row["value"].values, row["safety"].values, row["looked_at"].values, strict=True
    ):
        note = _safety(float(safety)) if judged else ""
        told = _value(float(value), unit, note)
        yield Quantity(math.nan, words=_NO_LIFE, note=note) if unit == "s" and looked_at and math.isnan(value) else told
    bears = row["bears"].values[~np.isnan(row["bears"].values)]
    yield _value(float(bears.min()), unit) if bears.size else None
    yield one.wanted
    yield Verdict(one.verdict, one.verdict == "good") if one.verdict else None
    yield _short_case(where(loads, one))


def _short_case(text: str) -> str:
    """A stop of the table at full speed, load and extension in fewer words."""
    full = ", 100 % of speed, 100 % of the load, 100 % of extension"
    return text.replace(full, ", all at 100 %").replace(", 0.000 s into it", ", at its start")


def _value(value: float, unit: str, note: str = "") -> Entry:
    if math.isnan(value):
        return Quantity(math.nan, note=note) if note else None
    if unit == "s":
        return Quantity(value, words=_life(value), note=note)
    if unit in ("N", "N*m") and abs(value) < _SLIGHT:
        value = 0.0
    return Quantity(value, unit, small=unit == "m", percent=unit == "1", note=note)


def _life(seconds: float) -> str:
    hours = seconds / _HOUR
    return f"more than {number(LONG_LIFE)} h" if hours > LONG_LIFE else f"{number(hours)} h"


def _safety(safety: float) -> str:
    return "" if math.isnan(safety) else "safety > 1000" if safety > 1000 else f"safety {safety:.3g}"


def _drawn(found: Found) -> dict[str, list[Picture]]:
    """Pictures of the other results, by the group of parts that they show."""
    drawn: dict[str, list[Picture]] = {}
    wrenches, base, track = map(found.get, ("joint_wrenches", "base_loads", "track_loads"))
    units = found.units
    if wrenches is not None:
        axes = pictures.wrenches(wrenches, bearings=found.get("bearings"), units=units)
        drawn["bearing"] = [
            picture(
                axes,
                "joint_wrenches",
                "Tilting moment against axial force of the joint that is tilted most, with its bearing's limit",
            )
        ]
    if base is not None and "bolt_position" in base:
        axes = pictures.bolt_pattern(base, units=units)
        drawn["bolt"] = [picture(axes, "bolts", "The bolts from above, with the tension of each")]
    if track is not None and track.sizes["block"]:
        axes = pictures.block_loads(track, units=units)
        drawn["block"] = [picture(axes, "blocks", "Loads of each block onto, off and across its rail")]
        if "radial" in track:
            axes = pictures.block_course(track, units=units)
            drawn["block"].append(picture(axes, "blocks_over_cycle", "Loads of the blocks over the cycle"))
    return drawn


PARTS = Question("parts", "What does each part have to bear, and does it?", STUDIES, _tell)
