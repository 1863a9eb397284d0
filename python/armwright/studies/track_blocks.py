"""What each block of a track's carriage bears, its static safety and its life."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from armwright import _core
from armwright.studies.rows_told import Told, placed
from armwright.studies.run import Arrays, Floats

_DIRECTIONS = ("roll", "pitch", "yaw")


def block_figures(track: Any, rows: Any, wrench: Floats, reliability: float, wanted: float, told: Told) -> Arrays:
    """Figures over (block), ``case_load`` (case, block), and under "loads" those of every row, (rows, blocks, 5), by
    the guide's axes. ``wrench``: (rows, 6) of the carriage on rails and feed, in those axes."""
    guide = track.guide
    if guide is None:
        told.missing.append("guide: not told, so that nothing is known of what rails and blocks bear")
        return _unknown(0, rows)
    count = len(guide.places)
    if guide.height is None:
        told.missing.append(f"{guide.name}: height of the blocks below the carriage not told, so that forces along and "
                            "across turn the carriage nobody knows how much: all checks of blocks and rails are left "
                            "out")
        return _unknown(count, rows)
    core, known = _core_guide(track, told)
    duty = np.asarray(rows.duty, float)
    speed = np.asarray(rows.qd, float)[:, 0]
    loads, counts, each, at = _core.limits.guide_duty(core, wrench, speed, duty)
    counted = known[0]
    out: Arrays = {
        "radial_greatest": each["radial_greatest"], "radial_least": each["radial_least"],
        "lateral_greatest": each["lateral_greatest"],
        "static_load": each["equivalent_greatest"],
        "case_load": _by_case(counts, rows),
        **placed(rows, {"radial_greatest": at["radial_greatest"], "radial_least": at["radial_least"],
                        "lateral_greatest": at["lateral_greatest"], "static_load": at["equivalent_greatest"]}),
        "static_posture": np.asarray(rows.q)[at["equivalent_greatest"]],
        "own_moment": np.abs(loads[:, :, 2:]).max(axis=0),
    }  # fmt: skip
    out |= _safety(guide, each, counted, wanted, told) | _life(guide, each, known, duty, speed, reliability, told)
    _tell_lifted(guide, out, told)
    return out | {"loads": loads}


def _core_guide(track: Any, told: Told) -> tuple[_core.limits.Guide, tuple[bool, bool]]:
    """The guide as the core takes it; whether loads can be counted against ratings, and whether its kind is told."""
    guide, feed = track.guide, track.feed
    across, down = feed_line(feed)
    if across is None or down is None:
        where = " and ".join(word for word, value in (("across", across), ("height", down)) if value is None)
        told.missing.append(f"feed: {where} of its line not told: taken amid the rails, at the height of the blocks; "
                            "what its offset adds to the blocks' loads is not counted")  # fmt: skip
    across = float(np.mean([float(rail) for rail in guide.rails])) if across is None else across
    down = float(guide.height) if down is None else down
    places = np.column_stack([guide.places, np.full(len(guide.places), -float(guide.height))])
    if guide.kind is None and guide.preload:
        told.missing.append(f"{guide.name}: kind not told: preload counted as of balls, the more of the two")
    return _made(guide, places, across, -down, told)


def _made(guide: Any, places: Floats, across: float, up: float, told: Told) -> tuple[Any, tuple[bool, bool]]:
    ratings = {name: getattr(guide, f"{name}_rating") for name in _DIRECTIONS}
    rated = guide.static_rating
    factors = [1.0, 1 / float(guide.lift_share or 1), 1 / float(guide.side_share or 1)]
    factors += [math.nan if value is None or rated is None else float(rated) / float(value)
                for value in ratings.values()]  # fmt: skip
    preload = float(guide.preload or 0.0)
    core = _core.limits.Guide(places, across, up, factors, preload, guide.kind == "roller")
    bears = dict(zip(_DIRECTIONS, core.own_moments, strict=True))
    lacking = [name for name in _DIRECTIONS if bears[name] and (ratings[name] is None or rated is None)]
    for name in lacking:
        rating = f"{name}_rating" if ratings[name] is None else "static_rating, which turns moments into loads,"
        told.missing.append(f"{guide.name}: the blocks have to bear a {name} moment of their own, and their {rating} "
                            "is not told: static safety and life are left out")  # fmt: skip
    return core, (not lacking, guide.kind is not None)


def feed_line(feed: Any) -> tuple[float | None, float | None]:
    """Where the feed pulls: across, and below the carriage frame's origin, m; None: not told."""
    if feed is None:
        return None, None
    across, height = (None if value is None else float(value) for value in (feed.across, feed.height))
    return across, height


def _safety(guide: Any, each: Arrays, counted: bool, wanted: float, told: Told) -> Arrays:
    count = len(guide.places)
    if guide.static_rating is None:
        told.missing.append(f"{guide.name}: static rating not told: static safety is left out")
    if guide.static_rating is None or not counted:
        return {"static_safety": np.full(count, np.nan)}
    safety = np.array([
        _core.elements.guide_static_safety(float(guide.static_rating), float(load))
        for load in each["equivalent_greatest"]
    ])  # fmt: skip
    for name, value in zip(guide.block_names, safety, strict=True):
        if value < wanted:
            told.warnings.append(f"{name}: static safety {value:.3g}, less than the {wanted:g} wanted")
    return {"static_safety": safety}


def _life(
    guide: Any, each: Arrays, known: tuple[bool, bool], duty: Floats, speed: Floats, reliability: float, told: Told
) -> Arrays:
    count = len(guide.places)
    out: Arrays = {"mean_load": each["mean"], "travel_load": each["travel_greatest"],
                   "life": np.full(count, np.nan), "life_time": np.full(count, np.nan),
                   "life_holds": np.zeros(count, bool)}  # fmt: skip
    travel, time = float((np.abs(speed) * duty).sum()), float(duty.sum())
    told_of = {"dynamic rating": guide.dynamic_rating, "kind": guide.kind}
    lacking = [word for word, value in told_of.items() if value is None]
    if not time > 0:
        told.missing.append("no cycle: no lasting duty, so that life is left out")
    elif lacking:
        told.missing.append(f"{guide.name}: {' and '.join(lacking)} not told: life is left out")
    if lacking or not known[0] or not time > 0:
        return out
    roller, rating = guide.kind == "roller", float(guide.dynamic_rating)
    a1 = _core.elements.reliability_factor(reliability)
    nominal = [_core.elements.guide_life(rating, guide.distance, float(load), roller) for load in each["mean"]]
    out["life"] = a1 * np.array(nominal) if travel > 0 else np.full(count, np.inf)
    out["life_time"] = out["life"] / travel * time if travel > 0 else np.full(count, np.inf)
    most = _core.elements.guide_life_holds * rating
    out["life_holds"] = each["travel_greatest"] <= most
    for name, load in zip(guide.block_names, each["travel_greatest"], strict=True):
        if load > most:
            told.warnings.append(f"{name}: {load:.4g} N while it travels, more than half of the dynamic rating: the "
                                 "life formula of ISO 14728-1 does not hold there")  # fmt: skip
    _tell_stroke(guide, travel, told)
    return out


def _tell_stroke(guide: Any, travel: float, told: Told) -> None:
    if not travel > 0:
        told.warnings.append("the carriage stands through the whole duty: travel wears no block, but swinging loads on "
                             "balls that stand may (false brinelling), which no life formula tells")  # fmt: skip


def short_stroke(guide: Any, stroke: float, told: Told) -> None:
    """Says whether the carriage goes less far in the duty than a block is long."""
    if guide is None or not stroke > 0:
        return
    length = guide.block_length
    if length is None:
        told.missing.append(f"{guide.name}: block length not told: whether the stroke is too short for the grease and "
                            "for the life formula cannot be said")  # fmt: skip
    elif stroke < float(length):
        told.warnings.append(f"{guide.name}: the duty goes {1000 * stroke:.4g} mm to and fro, less than a block is "
                             f"long ({1000 * float(length):.4g} mm): what rolls in it does not go round and grease "
                             "does not spread, which the life formula does not tell")  # fmt: skip


def _tell_lifted(guide: Any, out: Arrays, told: Told) -> None:
    for name, least in zip(guide.block_names, out["radial_least"], strict=True):
        if least < -1e-6:
            told.warnings.append(f"{name}: lifted off its rail with up to {-least:.4g} N: the bolts of block and rail "
                                 "have to hold that, which is not checked here")  # fmt: skip


def _by_case(counts: Floats, rows: Any) -> Floats:
    """Greatest of every case, (cases, blocks); 0 where a case has no rows; NaN where it is not known."""
    most = np.zeros((len(rows.case_names), counts.shape[1]))
    np.maximum.at(most, np.asarray(rows.case), counts)
    return most


def _unknown(count: int, rows: Any) -> Arrays:
    nothing = np.full(count, np.nan)
    each = ("radial_greatest", "radial_least", "lateral_greatest", "static_load")
    out: Arrays = {name: nothing for name in (*each, "static_safety", "mean_load", "travel_load", "life", "life_time")}
    out |= {f"{name}_case": np.full(count, -1, np.int64) for name in each} | {f"{name}_time": nothing for name in each}
    return out | {
        "static_posture": np.full((count, np.shape(rows.q)[1]), np.nan), "life_holds": np.zeros(count, bool),
        "case_load": np.full((len(rows.case_names), count), np.nan), "own_moment": np.full((count, 3), np.nan),
    }  # fmt: skip
