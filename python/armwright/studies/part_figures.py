"""What one part bears, as the studies of bearings, links, base and track tell it, in one form."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
import xarray as xr

from armwright.results.part_variables import GROUPS
from armwright.studies.track_held import HELD

LEAST_STATIC = "static safety, the least by load, moment and line of limits"
nan = math.nan


class Figure(NamedTuple):
    """One figure of a part over rows of one kind. ``wanted`` NaN: nothing is judged by it; ``safety`` NaN where
    something is wanted: it could not be looked at."""

    group: str
    part: str
    quantity: str
    unit: str
    value: float = nan
    bears: float = nan
    safety: float = nan
    wanted: float = nan
    case: str = ""
    time: float = nan

    @property
    def key(self) -> tuple[str, str, str, str]:
        """What it is a figure of."""
        return self[:4]


def _number(row: xr.Dataset, name: str) -> float:
    return float(row[name].item())


def bearings(found: xr.Dataset, wrenches: xr.Dataset) -> Iterator[Figure]:
    """Of every bearing; of joints without one what a bearing there would have to bear. In the order of the joints."""
    places = found["bearing_joint"].values
    for joint, name in enumerate(found["joint"].values):
        mine = np.flatnonzero(places == joint)
        for i in mine:
            yield from _bearing(found.isel(bearing=int(i)))
        if not mine.size and name in wrenches["part"].values:
            yield from _unknown_bearing(wrenches.sel(part=name), f"{name}: no bearing told")


def _bearing(row: xr.Dataset) -> Iterator[Figure]:
    part, wanted = str(row["bearing"].item()), _number(row, "wanted_static")
    case, time = str(row["worst_case"].item()), _number(row, "worst_time")

    def figure(quantity: str, unit: str, name: str) -> Figure:
        return Figure("bearing", part, quantity, unit, _number(row, name), case=case, time=time)

    yield figure("radial load", "N", "worst_radial")
    yield figure("axial load", "N", "worst_axial")
    if not math.isnan(_number(row, "worst_moment")):
        yield figure("tilting moment", "N*m", "worst_moment")
    load = figure("static equivalent load", "N", "static_load")._replace(bears=_number(row, "static_rating"))
    safety = _number(row, "safety")
    if all(math.isnan(_number(row, name)) for name in ("moment_safety", "line_safety")):
        yield load._replace(safety=safety, wanted=wanted)
    else:  # a moment rating or a line of limits counts too, and may be reached first
        yield load
        yield figure(LEAST_STATIC, "1", "safety")._replace(value=nan, safety=safety, wanted=wanted)


def bearing_lives(found: xr.Dataset) -> Iterator[Figure]:
    """Of the lasting duty; told apart from loads, for it is no load of a row."""
    wanted = float(found.attrs.get("wanted_life", nan))
    for name in found["bearing"].values:
        life = _number(found.sel(bearing=name), "modified_life")
        yield Figure("bearing", str(name), "life", "s", life, wanted, life / wanted, nan if math.isnan(wanted) else 1.0)


def _unknown_bearing(row: xr.Dataset, part: str) -> Iterator[Figure]:
    for k, (quantity, name) in enumerate(
        (("radial load", "radial force"), ("axial load", "axial force"), ("tilting moment", "tilting moment"))
    ):
        yield _extreme(row, name, Figure("bearing", part, quantity, "N*m" if k == 2 else "N"))
    yield Figure("bearing", part, "static equivalent load", "N", wanted=1.0)


def _extreme(row: xr.Dataset, quantity: str, figure: Figure) -> Figure:
    """The greater end of a quantity of joint_wrenches, by magnitude."""
    ends = row.sel(quantity=quantity)
    end = ends.isel(end=int(np.abs(ends["extreme"].values).argmax()))
    case = str(row["case"].values[int(end["extreme_case"])])
    return figure._replace(value=abs(_number(end, "extreme")), case=case, time=_number(end, "extreme_time"))


def links(found: xr.Dataset | None, without: list[str]) -> Iterator[Figure]:
    """Of both ends of every tube, and between; ``without``: links of which no tube is told."""
    for i in range(0 if found is None else found.sizes["tube"]):
        for end, place in (("near", "near end"), ("far", "far end"), ("between", "between the ends")):
            row = found.isel(tube=i).sel(end=end)  # type: ignore[union-attr]
            yield Figure(
                "link", str(row["tube"].item()), f"stress, {place}", "Pa", _number(row, "von_mises"),
                _number(row, "allowed_stress"), _number(row, "safety"), _number(row, "wanted_safety"),
                str(row["case"].item()), _number(row, "time"),
            )  # fmt: skip
    for name in without:
        yield Figure("link", f"{name}: no tube told", "stress, near end", "Pa", wanted=1.0)


_FACE = {
    "pull": ("pull off the face", "N"), "push": ("push onto it", "N"), "shear": ("shear along it", "N"),
    "tilting moment": ("tilting moment", "N*m"), "torsion": ("torsion", "N*m"),
}  # fmt: skip


def base(found: xr.Dataset) -> Iterator[Figure]:
    """Of the mounting face, each bolt, and every check of the base."""
    face = found.isel(kind=0)  # rows of one kind are given
    for extreme, (quantity, unit) in _FACE.items():
        row = face.sel(extreme=extreme)
        force, moment = row["reaction_force"].values, row["reaction_moment"].values
        value = {
            "pull": max(force[2], 0.0), "push": max(-force[2], 0.0), "shear": math.hypot(*force[:2]),
            "tilting moment": math.hypot(*moment[:2]), "torsion": abs(moment[2]),
        }[extreme]  # fmt: skip
        case, time = str(row["reaction_case"].item()), _number(row, "reaction_time")
        yield Figure("mounting face", "mounting face", quantity, unit, float(value), case=case, time=time)
    if "bolt" in found.coords:
        yield from _bolts(found)
    else:
        yield Figure("bolt", "bolts of the base: not told", "tension", "N", wanted=1.0)
    for name in found["check"].values:
        if name == "bolt: proof stress":  # each bolt tells its own
            continue
        row = found.sel(check=name)
        safety, wanted = _number(row, "safety"), _number(row, "wanted")
        tips = name == "floor pressure" and safety == 0  # then no pressure can be told
        where = f"{'it tips over' if tips else row['check_part'].item()}; {row['check_case'].item()}"
        group = "bolted joint" if ":" in str(name) else "footing"
        value = float(found.attrs.get("floor_pressure", nan)) if name == "floor pressure" else nan
        unit = "Pa" if name == "floor pressure" else "1"
        yield Figure(group, str(name), "safety" if unit == "1" else "pressure", unit, value,
                     nan if tips else value * safety, safety, wanted, where, _number(row, "check_time"))  # fmt: skip


def _bolts(found: xr.Dataset) -> Iterator[Figure]:
    for name in found["bolt"].values:
        row, part = found.sel(bolt=name), str(name)
        case = str(row["bolt_pull_case"].item())
        yield Figure("bolt", part, "tension", "N", _number(row, "bolt_pull"), case=case,
                     time=_number(row, "bolt_pull_time"))  # fmt: skip
        yield Figure("bolt", part, "shear, friction bearing nothing", "N", _number(row, "bolt_shear"),
                     case=str(row["bolt_shear_case"].item()))  # fmt: skip
        safety = _number(row, "proof_safety") if "proof_safety" in found else nan
        yield Figure("bolt", part, "safety against proof stress", "1", safety=safety, wanted=1.0, case=case)


def track(found: xr.Dataset, kind: str) -> Iterator[Figure]:
    """Of every block, the rails, the feed, and what holds the track, over rows of one kind."""
    cases = [*map(str, found["case"].values), ""]
    for name in found["block"].values:
        yield from _block(found.sel(block=name), cases, float(found.attrs["wanted_static"]))
    if not found.sizes["block"]:
        yield Figure("block", "blocks of the track: not told", "static equivalent load", "N", wanted=1.0)
    yield from _rails(found, cases)
    for name in found["feed_check"].values:
        row = found.sel(feed_check=name)
        allowed, wanted = _number(row, "feed_allowed"), _number(row, "feed_wanted")
        yield Figure(
            "feed", "feed", str(name), str(row["feed_unit"].item()), _number(row, "feed_value"), allowed,
            _number(row, "feed_safety"), nan if math.isnan(allowed) else wanted, cases[int(row["feed_case"])],
            _number(row, "feed_time"),
        )  # fmt: skip
    held = found.isel(held=HELD.index(kind))
    if not math.isnan(_number(held, "held_force")):
        by = "motor" if kind == "cycle" else "brake"
        yield Figure("feed", f"track, held by its {by}", "force while it stands", "N", _number(held, "held_force"),
                     _number(held, "held_bears"), _number(held, "held_factor"), 1.0, cases[int(held["held_case"])],
                     _number(held, "held_time"))  # fmt: skip


def _block(row: xr.Dataset, cases: list[str], wanted: float) -> Iterator[Figure]:
    part = str(row["block"].item())
    loads = (("onto the rail", "radial_greatest", 1.0), ("off the rail", "radial_least", -1.0),
             ("across the rail", "lateral_greatest", 1.0))  # fmt: skip
    for quantity, name, sign in loads:
        value = sign * _number(row, name)
        value = abs(value) if quantity.startswith("across") else max(value, 0.0)
        yield Figure("block", part, quantity, "N", value, case=cases[int(row[f"{name}_case"])],
                     time=_number(row, f"{name}_time"))  # fmt: skip
    yield Figure(
        "block", part, "static equivalent load", "N", _number(row, "static_load"),
        float(row.attrs.get("static_rating", nan)), _number(row, "static_safety"), wanted,
        cases[int(row["static_load_case"])], _number(row, "static_load_time"),
    )  # fmt: skip


def block_lives(found: xr.Dataset) -> Iterator[Figure]:
    """Of the lasting duty, as time of it."""
    for name in found["block"].values:
        yield Figure("block", str(name), "life", "s", _number(found.sel(block=name), "life_time"))


def _rails(found: xr.Dataset, cases: list[str]) -> Iterator[Figure]:
    support = found.attrs.get("rail_support")
    if support is None:
        return
    limit = float(found.attrs.get("deflection_limit", nan))
    for rail in found["rail"].values:
        row, part = found.sel(rail=rail, support=support), f"rail {int(rail) + 1}"
        bends = abs(_number(row, "rail_deflection"))
        yield Figure(
            "rail", part, "bending", "m", bends, limit, limit / bends if bends > 0 else math.inf if limit > 0 else nan,
            nan if math.isnan(limit) else 1.0, cases[int(row["rail_deflection_case"])],
            _number(row, "rail_deflection_time"),
        )  # fmt: skip
        yield Figure("rail", part, "bending stress", "Pa", _number(row, "rail_stress"),
                     case=cases[int(row["rail_moment_case"])], time=_number(row, "rail_moment_time"))  # fmt: skip


def drives(found: xr.Dataset) -> Iterator[Figure]:
    """Of motors and stages in the cycle: shares of their limits. Limits of the joints are those that the motion was
    timed by, and no load of a part."""
    for name, of, share, when in zip(
        *(found[key].values for key in ("check", "share_part", "share", "share_time")), strict=True
    ):
        if of == "joint":
            continue
        part, _, quantity = str(name).rpartition(": ")
        safety = 1 / share if share > 0 else math.inf if share == 0 else nan
        yield Figure("drive", part, quantity, "1", float(share), 1.0, safety, 1.0, "the cycle", float(when))


def sorted_keys(figures: dict[str, list[Figure]]) -> list[tuple[str, str, str, str]]:
    """All that figures are of, group by group, as they first come."""
    keys = dict.fromkeys(figure.key for each in figures.values() for figure in each)
    order = list(dict.fromkeys((key[0], key[1]) for key in keys))  # a part's figures together
    groups = list(GROUPS)
    return sorted(keys, key=lambda key: (groups.index(key[0]), order.index((key[0], key[1]))))


