"""How far the rails of a track bend between their supports, and what their beams bear."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from armwright import _core
from armwright.studies.elastic import section_of
from armwright.studies.rows_told import Told, placed
from armwright.studies.run import Arrays, Floats

SUPPORTS = ("simple", "continuous", "fixed")
_A_BAY = 48  # places of the carriage that are tried in a span of a single bay
_LONG = 24  # and in one of many
_LEAST_SPANS = 5
_POISSON = 0.3  # for shear, which is not counted here


def rail_figures(track: Any, rows: Any, loads: Floats | None, told: Told) -> Arrays:
    """Figures over (rail, support). ``loads``: (rows, blocks, 5), None where they are not known."""
    guide = track.guide
    beam = guide.beam if guide is not None else None
    if beam is None or loads is None:
        if guide is not None and beam is None:
            told.missing.append(f"{guide.name}: no beam told under its rails: their bending between supports is left "
                                "out")  # fmt: skip
        return {name: np.zeros((0, len(SUPPORTS)), kind) for name, kind in _KINDS.items()}
    second, modulus = bending_of(beam)
    stiffness = float(beam.material.elastic_modulus) * second
    along, across = np.asarray(guide.places).T
    each = []
    for rail in guide.rails:
        chosen = np.flatnonzero(across == float(rail))
        chosen = chosen[np.argsort(along[chosen])]
        train = (along[chosen] - along[chosen[0]]).tolist()
        of_rail = np.ascontiguousarray(loads[:, chosen, 0])
        each.append([_bent(stiffness, float(beam.span), kind, train, of_rail) for kind in SUPPORTS])
    names = ("deflection", "deflection_row", "moment", "moment_row")
    found = {name: np.array([[getattr(bent, name) for bent in kinds] for kinds in each]) for name in names}
    out: Arrays = {"rail_deflection": found["deflection"], "rail_moment": found["moment"]}
    for name in ("deflection", "moment"):
        where = placed(rows, {f"rail_{name}": found[f"{name}_row"].ravel()})
        out |= {key: values.reshape(found["moment"].shape) for key, values in where.items()}
    stress = np.full(found["moment"].shape, np.nan) if modulus is None else np.abs(found["moment"]) / modulus
    out["rail_stress"] = stress
    _judge(guide, beam, out, told)
    return out


_KINDS: dict[str, Any] = {"rail_deflection": float, "rail_moment": float, "rail_stress": float,
                          "rail_deflection_case": np.int64, "rail_deflection_time": float,
                          "rail_moment_case": np.int64, "rail_moment_time": float}  # fmt: skip


def counted(beam: Any) -> int:
    """Which of SUPPORTS counts: as told, else simple spans."""
    return SUPPORTS.index(beam.ends or "simple")


def _bent(stiffness: float, span: float, kind: str, train: list[float], loads: Floats) -> _core.limits.RailBending:
    spans, first, last, steps = 1, -train[-1], span, _A_BAY
    if kind == "continuous":  # long enough that its far end hardly matters
        spans = _LEAST_SPANS + math.ceil(train[-1] / span)
        first, last, steps = 0.0, spans * span - train[-1], _LONG
    count = math.ceil(steps * (last - first) / span)
    places = [first + (last - first) * i / count for i in range(count + 1)]
    return _core.limits.worst_rail_bending(stiffness, span, spans, kind == "fixed", train, loads, places)


def bending_of(beam: Any) -> tuple[float, float | None]:
    """Second moment of area against bending up and down, m⁴, and section modulus, m³ (None: not told)."""
    if beam.section is None:
        return float(beam.second_moment), None if beam.section_modulus is None else float(beam.section_modulus)
    tube = section_of(beam)
    second = _core.elements.section_numbers(tube, _POISSON).moment_y
    return second, second / (tube.height / 2)


def _judge(guide: Any, beam: Any, out: Arrays, told: Told) -> None:
    kind = counted(beam)
    allowed, strength = beam.deflection_limit, beam.material.yield_strength
    if allowed is None:
        told.missing.append(f"{beam.name}: no deflection limit told: how far it bends is told, not judged")
    if not np.isfinite(out["rail_stress"]).all():
        told.missing.append(f"{beam.name}: no section modulus told: its stress is left out")
    elif strength is None:
        told.missing.append(f"{beam.name}: no yield strength of its material told: its stress is told, not judged")
    for i, (bent, stress) in enumerate(zip(out["rail_deflection"][:, kind], out["rail_stress"][:, kind], strict=True)):
        if allowed is not None and abs(bent) > float(allowed):
            told.warnings.append(f"rail {i + 1}: bends by {1000 * abs(bent):.3g} mm, more than the "
                                 f"{1000 * allowed:.3g} mm allowed ({SUPPORTS[kind]} spans)")  # fmt: skip
        if strength is not None and stress > float(strength):
            told.warnings.append(f"rail {i + 1}: {stress / 1e6:.3g} MPa in its beam, more than its yield strength")
