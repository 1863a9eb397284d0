"""Ready answers about the track; ask.py hands them on."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING

from armwright import arguments
from armwright.designs.answer import Answer, Asked, none_because
from armwright.designs.prices import TrackPrices
from armwright.errors import InputError

if TYPE_CHECKING:
    from armwright.cell import Cell

Names = tuple[str, ...]


def stroke(targets: Sequence[str] | None = None) -> Answer:
    """Shortest stroke of the track from which all points are served that any position of it serves, m; see
    Cell.track_intervals.

    >>> round(aw.ask.stroke().of(cell).value, 3)     # m
    0.208
    """
    names = None if targets is None else tuple(targets)
    return Answer("stroke needed", "m", partial(_stroke, names), "less")


def track_cost(prices: TrackPrices, targets: Sequence[str] | None = None) -> Answer:
    """What a track of the stroke needed costs, see ``stroke``; in the prices' currency.

    >>> round(aw.ask.track_cost(aw.TrackPrices(per_metre=800, fixed=1200)).of(cell).value)
    1366
    """
    if not isinstance(prices, TrackPrices):
        raise InputError.of("prices", repr(prices), "TrackPrices")
    names = None if targets is None else tuple(targets)
    return Answer("cost of the track", prices.currency or "1", partial(_track_cost, prices, names), "less")


def _stroke(names: Names | None, cell: Cell) -> Asked:
    for name in names or ():
        arguments.choice("targets", name, {target.name: target for target in cell.targets})
    chosen = [target for target in cell.targets if names is None or target.name in names]
    if cell.track is None:
        return none_because("no track")
    told = cell.track_intervals(chosen)
    count = int(told["served"].sum())
    if not count:
        return none_because("no point is served")
    return Asked(float(told["stroke_length"][count - 1]), "", f"{count} of {len(chosen)} points")


def _track_cost(prices: TrackPrices, names: Names | None, cell: Cell) -> Asked:
    needed = _stroke(names, cell)
    return needed._replace(value=prices.of(needed.value)) if needed.known else needed
