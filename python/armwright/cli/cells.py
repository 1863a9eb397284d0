"""The commands on a cell at rest: check, reach, payload, targets, track, place, outlines, page, schema."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import Any

from armwright.cell import Cell, load_cycle
from armwright.cli.common import grid_options, how_options, load, tell
from armwright.describe import schema as schemas
from armwright.describe.track import take_stroke
from armwright.describe.units import LENGTH, VectorOf
from armwright.designs.placement.place import NUMBERS
from armwright.designs.prices import TrackPrices
from armwright.errors import InputError
from armwright.results.unit_words import in_units


def check(options: argparse.Namespace) -> None:
    cell = load(options)
    names = {cell.name, cell.arm.name, *(part.name for part in (*cell.fixtures, *cell.targets))}
    for line in _held(cell):
        print(in_units(line, options.units, names))
    pairs = ", ".join(f"{a} and {b}" for a, b in cell.touching_pairs)
    print("  not checked against each other (they touch by design, or no posture changes their distance):")
    print(f"    {pairs or 'none'}")


def _held(cell: Cell) -> Iterator[str]:
    """What a cell holds, a line each."""
    yield str(cell)
    yield f"  {cell.arm}"
    if cell.supply is not None:
        yield f"  {cell.supply}"
    for text in (*cell.assumptions, *(cell.supply.assumptions if cell.supply is not None else ())):
        yield f"  assumed: {text}"
    for part in (*cell.fixtures, *cell.targets):
        yield f"  {part}"


def reach(options: argparse.Namespace) -> None:
    cell = load(options)
    tell([cell.reach_map(**grid_options(options))], cell, options)


def payload(options: argparse.Namespace) -> None:
    cell = load(options)
    result = cell.payload_map(
        attitude=options.attitude, limit=options.limit, centre=options.centre, **grid_options(options)
    )
    tell([result], cell, options)


def targets(options: argparse.Namespace) -> None:
    cell = load(options)
    order: dict[str, Any] = {"order": [word.strip() for word in options.order.split(",")]} if options.order else {}
    result = cell.check_targets(
        margin=options.margin, limit=options.limit, threads=options.threads, progress=not options.quiet, **order
    )
    tell([result], cell, options)


def track(options: argparse.Namespace) -> None:
    cell = load(options)
    cycle = load_cycle(options.cycle, cell) if options.cycle else None
    within = take_stroke("--within", _several(options.within)) if options.within else None
    intervals = cell.track_intervals(
        stroke=within, margin=options.margin, threads=options.threads, progress=not options.quiet
    )
    worth = cell.track_worth(
        _several(options.strokes) if options.strokes else None, cycle=cycle, prices=_prices(options), within=within,
        margin=options.margin, progress=not options.quiet,
    )  # fmt: skip
    tell([intervals, worth], cell, options)


def place(options: argparse.Namespace) -> None:
    cell = load(options)
    told: dict[str, Any] = {n: _several(getattr(options, n)) for n in NUMBERS if getattr(options, n) is not None}
    if options.attitudes:
        told["attitudes"] = _words(options.attitudes)
    if options.going_along:
        told["going_along"] = _names(options.going_along, [fixture.name for fixture in cell.fixtures])
    result = cell.placement(
        **told, aims=_words(options.aims), margin=options.margin, limit=options.limit, samples=options.samples,
        forbidden=[_zone(text) for text in options.forbid], seed=options.seed, **how_options(options),
    )  # fmt: skip
    tell([result], cell, options)


def _words(text: str) -> list[str]:
    return [part.strip() for part in text.split(",")]


def _names(text: str, known: list[str]) -> list[str]:
    """Names with commas between; those that hold commas themselves as they are known, the longest first."""
    words, found = _words(text), []
    while words:
        ends = range(len(words), 0, -1)
        end = next((end for end in ends if ", ".join(words[:end]) in known), 1)
        found.append(", ".join(words[:end]))
        words = words[end:]
    return found


def _zone(text: str) -> list[tuple[float, float]]:
    """ "0, 0, 2, 1 m" as corners."""
    count = text.count(",") + 1
    if count < 4 or count % 2:
        raise InputError.of("--forbid", text, 'corners, x then y, as "0, 0, 2, 1 m"')
    numbers = [float(value) for value in VectorOf(LENGTH, count).si_value("--forbid", text)]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def _several(text: str) -> list[str] | str:
    """ "1 m, 2 m" as two; a single one as it is."""
    parts = [part.strip() for part in text.split(",")]
    return parts if len(parts) > 1 else parts[0]


def _prices(options: argparse.Namespace) -> TrackPrices | None:
    if options.price is None:
        return None
    try:
        amounts = [float(part) for part in options.price.split(",")]
    except ValueError:
        amounts = []
    if not 1 <= len(amounts) <= 3:
        raise InputError.of("--price", options.price, 'one to three amounts, as "800, 1200, 400"')
    per_metre, fixed, motor = (*amounts, 0.0, 0.0)[:3]
    return TrackPrices(per_metre, fixed, motor, options.currency)


def outlines(options: argparse.Namespace) -> None:
    cell = load(options)
    tell([cell.outlines(threads=options.threads, progress=not options.quiet)], cell, options)


def page(options: argparse.Namespace) -> None:
    cell = load(options)
    how = how_options(options) | {"margin": options.margin}
    cycle = load_cycle(options.cycle, cell) if options.cycle else None
    maps = []
    if options.reach:
        maps.append(cell.reach_map(options.reach, **how))
    if options.payload:
        maps.append(cell.payload_map(options.payload, attitude=options.attitude, centre=options.centre, **how))
    written = cell.page(
        options.output / "cell.html", maps=maps, cycle=cycle, units=options.units, threads=options.threads,
        progress=not options.quiet,
    )  # fmt: skip
    print(written)


def schema(options: argparse.Namespace) -> None:
    print(schemas.text(options.kind), end="")
