"""The commands on many designs: changes, uncertainty, sweep."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from typing import Any

from armwright import arguments
from armwright.cell import Cell, load_cycle
from armwright.cli.common import how_options, load, tell
from armwright.describe import Cycle, Motor, Parts, Stage, load_parts
from armwright.describe.described import Described
from armwright.describe.design_numbers import design_part
from armwright.designs import ask
from armwright.designs.answer import Answer
from armwright.errors import InputError
from armwright.results.units import shown

_AT_POINTS: dict[str, Callable[..., Answer]] = {
    "payload_margin": ask.payload_margin, "limit_margin": ask.limit_margin, "clearance": ask.clearance,
    "stop_drop": ask.stop_drop, "payload": ask.payload,
}  # fmt: skip
_OF_CELL: dict[str, Callable[..., Answer]] = {
    "served": ask.served, "stroke": ask.stroke, "reachable_volume": ask.reachable_volume,
}  # fmt: skip
_OF_CYCLE: dict[str, Callable[..., Answer]] = {
    "cycle_time": ask.cycle_time, "greatest_share": ask.greatest_share, "speed_factor": ask.speed_factor,
    "cycle_load": ask.cycle_load,
}  # fmt: skip
_PRICE = '"1 kW motor=410"'
ANSWERS = (*_AT_POINTS, *_OF_CELL, *_OF_CYCLE)


def numbers(options: argparse.Namespace) -> None:
    found = load(options).design_numbers(options.containing)
    if not found:
        raise InputError.of("TEXT", options.containing, "a part of the name of a number; without it all are told")
    for number in found:
        if options.units == "si":
            print(number)
            continue
        how = shown(number.unit, options.units)
        gap = "" if how.unit in ("°", "") else " "
        tolerance = f" ± {number.tolerance * how.factor:.3g}{gap}{how.unit}" if number.tolerance else ""
        print(f"{number.path} = {number.value * how.factor:.6g}{gap}{how.unit}{tolerance}")


def changes(options: argparse.Namespace) -> None:
    cell = load(options)
    asked = _asked(cell, options, ask.usual)
    result = cell.changes(
        options.number or None, _levels("--alternative", options.alternative), asked, parts=options.parts,
        prices=_prices(options.prices), currency=options.currency, **how_options(options),
    )  # fmt: skip
    tell([result], cell, options)


def uncertainty(options: argparse.Namespace) -> None:
    cell = load(options)
    tolerances = _by_name("--tolerance", options.tolerance, '"tool.mass=10 %"')
    result = cell.uncertainty(
        _asked(cell, options, ask.usual_held), tolerances, distribution=options.distribution,
        samples=options.samples, seed=options.seed, postures=options.postures, **how_options(options),
    )  # fmt: skip
    tell([result], cell, options)


def sweep(options: argparse.Namespace) -> None:
    cell = load(options)
    parts = None if options.parts is None else load_parts(options.parts)
    levels = _levels("NUMBER=VALUES", options.numbers)
    numbers = {path: _perhaps_parts(cell, path, told, parts) for path, told in levels.items()}
    result = cell.sweep(
        numbers, _asked(cell, options, ask.usual), design=options.design, samples=options.samples, seed=options.seed,
        **how_options(options),
    )  # fmt: skip
    tell([result], cell, options)


def _asked(cell: Cell, options: argparse.Namespace, usual: Callable[[Cell], list[Answer]]) -> list[Answer] | None:
    """What the designs are asked: as told; else the usual, and of a cycle its time and what it takes of the parts."""
    cycle = None if options.cycle is None else load_cycle(options.cycle, cell)
    told: list[str] = options.answer
    if not told:
        return None if cycle is None else [*usual(cell), ask.cycle_time(cycle), ask.greatest_share(cycle)]
    if cycle is not None and not set(told) & set(_OF_CYCLE):
        raise InputError.of("--cycle", str(options.cycle), "with it --answer " + ", or ".join(_OF_CYCLE))
    return [_answer(cell, cycle, "--answer", text) for text in told]


def _answer(cell: Cell, cycle: Cycle | None, key: str, text: str) -> Answer:
    """ "payload at kiln, back" or "served" as an answer."""
    name, at, target = (part.strip() for part in text.partition(" at "))
    arguments.choice(key, name, dict.fromkeys(ANSWERS))
    if at:
        make: Callable[..., Answer] = arguments.choice(key, name, _AT_POINTS)
        arguments.choice(key, target, {each.name: each for each in cell.targets})
        return make(target)
    if name == "payload":
        raise InputError.of(key, repr(text), 'a work point besides, as "payload at kiln"')
    if name in _OF_CYCLE:
        if cycle is None:
            raise InputError.of(key, repr(text), "--cycle with the cycle's file besides")
        return _OF_CYCLE[name](cycle)
    return (_AT_POINTS | _OF_CELL)[name]()


def _by_name(key: str, told: Sequence[str], example: str) -> dict[str, str]:
    """Each "name=value" of them; names may hold commas, and "=" except the last."""
    found: dict[str, str] = {}
    for text in told:
        name, equals, value = (part.strip() for part in text.rpartition("="))
        if not (name and equals and value):
            raise InputError.of(key, text, f"a name and what it is told, as {example}")
        if name in found:
            raise InputError.of(key, f"{name} twice", "each name once")
        found[name] = value
    return found


def _levels(key: str, told: Sequence[str]) -> dict[str, list[str]]:
    """Values by the name of a number: "track.stroke=1 m, 2 m"."""
    by_name = _by_name(key, told, '"track.stroke=1 m, 2 m"')
    return {path: [value.strip() for value in text.split(",")] for path, text in by_name.items()}


def _perhaps_parts(cell: Cell, path: str, told: list[str], parts: Parts | None) -> list[Any]:
    """The values of a number as they are told; in place of a motor or a stage the parts of those names."""
    now = design_part(cell.description, path)
    if not isinstance(now, Described):
        return list(told)
    if not isinstance(now, Motor | Stage):
        raise InputError.of(path, "a part", "a number of it, or a motor or a stage")
    if parts is None:
        raise InputError.of(path, ", ".join(told), "--parts with the file of these parts, or a number of this one")
    known: dict[str, Any] = dict(parts.motors if isinstance(now, Motor) else parts.stages)
    known |= {str(now.name): now}
    return [arguments.choice(path, name, known) for name in told]


def _prices(told: Sequence[str]) -> dict[str, float]:
    """ "1 kW motor=410, 750 W motor=330"; a piece without "=" is the beginning of a name that holds a comma."""
    each: list[str] = []
    for text in told:
        waiting = ""
        for piece in text.split(","):
            waiting = f"{waiting},{piece}" if waiting else piece
            if "=" in piece:
                each.append(waiting)
                waiting = ""
        each += [waiting] if waiting else []
    found: dict[str, float] = {}
    for name, value in _by_name("--prices", each, _PRICE).items():
        try:
            found[name] = float(value)
        except ValueError:
            raise InputError.of("--prices", f"{name}={value}", f"an amount without its currency, as {_PRICE}") from None
    return found
