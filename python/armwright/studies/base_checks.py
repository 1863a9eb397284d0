"""What the parts of the base study have in common: a check's answer, and the worst of many rows."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from armwright.studies.run import Floats

# Safeties that are wanted. Without a mark: common practice, no source.
LOAD_FACTOR, OPENING, SLIP, TIPPING = 1.5, 1.5, 1.5, 1.5


class Check(NamedTuple):
    """The least safety over all rows, and the row and part where it is."""

    name: str
    safety: float
    wanted: float
    part: str
    row: int
    basis: str


@dataclass
class Found:
    """What a part of the study gives: variables, attributes, checks; in words what it could not look at, and what it
    assumed or took beyond a rule's range."""

    variables: dict[str, Any] = field(default_factory=dict)
    coords: dict[str, Any] = field(default_factory=dict)
    attributes: dict[str, Any] = field(default_factory=dict)
    checks: list[Check] = field(default_factory=list)
    missing: list[str] = field(default_factory=list)
    mind: list[str] = field(default_factory=list)
    rows: dict[str, NDArray[np.int64]] = field(default_factory=dict)  # names of *_case to the rows that they tell

    def check(self, name: str, safety: Floats, wanted: float, parts: list[str], basis: str) -> None:
        """Adds the worst of (rows, parts); a row without an answer counts as the worst there is."""
        at = np.where(np.isnan(safety), -np.inf, safety)
        row, part = (int(i) for i in np.unravel_index(int(at.argmin()), at.shape))
        self.checks.append(Check(name, float(safety[row, part]), wanted, parts[part], row, basis))


def greatest(values: Floats) -> tuple[Floats, NDArray[np.int64]]:
    """Of each column the greatest and its row; NaN only where there is nothing else."""
    at = np.where(np.isnan(values), -np.inf, values).argmax(axis=0)
    return values[at, np.arange(values.shape[1])], at


def ratio(bears: Any, has: Any) -> Floats:
    """What is borne over what has to be borne; infinite where that is nothing."""
    has = np.asarray(has, np.float64)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(has > 0, bears / has, np.where(np.isnan(has), np.nan, np.inf))
