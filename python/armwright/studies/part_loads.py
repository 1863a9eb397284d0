"""What every part bears at rest, in the cycle and in its worst stop: what the studies of all parts tell, side by
side."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

import numpy as np
import xarray as xr

from armwright.results import make_dataset
from armwright.results.part_variables import GROUPS
from armwright.studies import part_figures
from armwright.studies.part_figures import Figure
from armwright.studies.track_loads import NO_MOTOR

_NAMES = ("part", "quantity", "unit")
CAUTION = (
    "figures of a part are those that its own study tells, by what was typed in. Shocks beyond the rows, fatigue, and "
    "the details of welds, plates and anchors are not among them; makers' own calculations and local codes go before"
)


class Found(NamedTuple):
    """Results of the parts' studies over the same rows. None: there is no such part, or nothing is told of it."""

    wrenches: xr.Dataset
    bearings: xr.Dataset
    base: xr.Dataset
    links: xr.Dataset | None
    track: xr.Dataset | None


def part_loads(
    by_kind: Mapping[str, Found],
    whole: Found,
    drives: xr.Dataset | None,
    *,
    without_tube: list[str],
    missing: list[str],
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.part_loads. ``by_kind``: over the rows of each kind that there are; ``whole``: over all of them;
    ``missing``: what else was not looked at."""
    figures = {kind: list(_figures(found, kind, without_tube)) for kind, found in by_kind.items()}
    if "cycle" in figures:
        figures["cycle"] += [
            *part_figures.bearing_lives(whole.bearings), *_lives_of(whole.track), *_drives(drives),
        ]  # fmt: skip
    keys = part_figures.sorted_keys(figures)
    places = {key: i for i, key in enumerate(keys)}
    kinds = list(figures)
    variables = _filled(figures, places)
    attributes = {
        **_weakest(keys, variables), "reliability": float(whole.bearings.attrs["reliability"]),
        "missing": _lines([*(line for line in _told(whole, "missing", "not_counted") if line != NO_MOTOR), *missing]),
        "warnings": _lines(_told(whole, "flags", "to_mind", "warnings")), "caution": CAUTION,
    }  # fmt: skip
    coords = {
        "situation": np.array(kinds, np.str_), "figure": np.arange(len(keys)),
        "group": np.array([list(GROUPS).index(key[0]) for key in keys], np.int64),
        **{name: np.array([key[i] for key in keys], np.str_) for i, name in enumerate(_NAMES, 1)},
    }
    return make_dataset("part_loads", variables, coords, attributes | labels, inputs_digest, arm_name)


def _figures(found: Found, kind: str, without_tube: list[str]) -> Iterator[Figure]:
    yield from part_figures.bearings(found.bearings, found.wrenches)
    yield from part_figures.links(found.links, without_tube)
    yield from part_figures.base(found.base)
    if found.track is not None:
        yield from part_figures.track(found.track, kind)


def _lives_of(track: xr.Dataset | None) -> Iterator[Figure]:
    return iter(()) if track is None else part_figures.block_lives(track)


def _drives(found: xr.Dataset | None) -> Iterator[Figure]:
    return iter(()) if found is None else part_figures.drives(found)


def _filled(figures: Mapping[str, list[Figure]], places: Mapping[Any, int]) -> dict[str, Any]:
    """All figures over (figure, situation)."""
    shape = (len(places), len(figures))
    numbers = {name: np.full(shape, np.nan) for name in ("value", "bears", "safety", "time")}
    wanted, cases, looked_at = np.full(len(places), np.nan), np.full(shape, "", object), np.zeros(shape, np.bool_)
    for k, each in enumerate(figures.values()):
        for figure in each:
            i = places[figure.key]
            for name, array in numbers.items():
                array[i, k] = getattr(figure, name)
            cases[i, k], looked_at[i, k] = figure.case, True
            wanted[i] = np.fmax(wanted[i], figure.wanted)
    return numbers | {"wanted": wanted, "looked_at": looked_at, "case": cases.astype(np.str_)}


def _weakest(keys: list[tuple[str, str, str, str]], variables: Mapping[str, Any]) -> dict[str, Any]:
    share = variables["safety"] / variables["wanted"][:, None]
    if np.isnan(share).all():
        return {"weakest": "nothing could be judged"}
    i, _ = np.unravel_index(int(np.nanargmin(share)), share.shape)
    least = float(np.nanmin(share))
    named = {"weakest": f"{keys[int(i)][1]}: {keys[int(i)][2]}"}
    return named | ({"weakest_share": least} if math.isfinite(least) else {})


def _told(whole: Found, *names: str) -> list[str]:
    return [
        line for result in whole if result is not None for name in names
        for line in str(result.attrs.get(name, "")).splitlines()
    ]  # fmt: skip


def _lines(lines: list[str]) -> str:
    return "\n".join(dict.fromkeys(line for line in lines if line))
