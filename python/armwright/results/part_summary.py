"""What every part bears, in a few lines of plain words."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright.results.part_variables import GROUPS, SITUATIONS
from armwright.results.words import verdict


class Least(NamedTuple):
    """The least safety of a figure over all situations. ``situation`` -1: it was not looked at, or is not judged."""

    figure: int
    situation: int
    safety: float
    wanted: float

    @property
    def share(self) -> float:
        """Safety by what is wanted of it: less than 1 is too little; NaN where it is not known."""
        return self.safety / self.wanted

    @property
    def verdict(self) -> str:
        """What the safety means beside the one wanted; "" for a load by which nothing is judged."""
        if np.isnan(self.wanted):
            return ""
        return "NOT LOOKED AT" if np.isnan(self.safety) else verdict(self.safety, self.wanted)


def not_known(dataset: xr.Dataset) -> NDArray[np.bool_]:
    """Of every figure of part_loads, (figure, situation): its safety is wanted and looked at, and not known."""
    wanted = ~np.isnan(dataset["wanted"].values)[:, None]
    unknown: NDArray[np.bool_] = np.isnan(dataset["safety"].values) & dataset["looked_at"].values & wanted
    return unknown


def least_safeties(dataset: xr.Dataset) -> list[Least]:
    """Of every figure of part_loads. One that is not known where it should be counts as less than any."""
    safety, wanted = dataset["safety"].values, dataset["wanted"].values
    unknown = not_known(dataset)
    told = []
    for i in range(dataset.sizes["figure"]):
        if np.isnan(wanted[i]) or unknown[i].any() or np.isnan(safety[i]).all():
            told.append(Least(i, -1, np.nan, float(wanted[i])))
        else:
            k = int(np.nanargmin(safety[i]))
            told.append(Least(i, k, float(safety[i, k]), float(wanted[i])))
    return told


def where(dataset: xr.Dataset, least: Least) -> str:
    """In which case the least safety is, and when."""
    if least.situation < 0:
        return ""
    case = str(dataset["case"].values[least.figure, least.situation])
    time = float(dataset["time"].values[least.figure, least.situation])
    return case if np.isnan(time) or not case else f"{case}, {time:.3f} s into it"


def part_loads_lines(dataset: xr.Dataset) -> list[str]:
    """Of every group the weakest part, with what is too little of it; then what is not looked at."""
    least = least_safeties(dataset)
    judged = [one for one in least if not np.isnan(one.wanted)]
    lines = []
    for code, words in enumerate(GROUPS.values()):
        mine = [one for one in judged if int(dataset["group"].values[one.figure]) == code]
        known = [one for one in mine if not np.isnan(one.safety)]
        weak = [one for one in known if one.share < 1]
        if known and not weak:
            lines.append(f"{words}: all as wanted; least: {_told(dataset, min(known, key=lambda one: one.share))}")
        lines += [f"{words}: {_told(dataset, one)}" for one in sorted(weak, key=lambda one: one.share)]
        unknown = list(dict.fromkeys(str(dataset["part"].values[one.figure]) for one in mine if np.isnan(one.safety)))
        if unknown:
            lines.append(f"{words}: NOT LOOKED AT: {'; '.join(unknown)}")
    counted = len([one for one in judged if not np.isnan(one.safety)])
    lines.append(f"{counted} of {len(judged)} figures that have to be judged could be")
    lines += [f"to mind: {line}" for line in dataset.attrs["warnings"].splitlines()]
    lines += [f"not looked at: {line}" for line in dataset.attrs["missing"].splitlines()]
    return [*lines, str(dataset.attrs["caution"])]


def _told(dataset: xr.Dataset, one: Least) -> str:
    part, quantity = (str(dataset[name].values[one.figure]) for name in ("part", "quantity"))
    situation = SITUATIONS[str(dataset["situation"].values[one.situation])]
    place = where(dataset, one)
    return (
        f"{part}, {quantity}: safety {_number(one.safety)} of {one.wanted:g} wanted: {one.verdict}, {situation}"
        + (f" ({place})" if place else "")
    )


def _number(value: float) -> str:
    return "beyond 1000" if value > 1000 else f"{value:.3g}"
