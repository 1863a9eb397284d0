"""The bolts of the base: tension by each method, shear, friction grip and strength."""

from __future__ import annotations

from typing import Any

import numpy as np

from armwright import _core
from armwright.errors import InputError
from armwright.results.base_variables import METHODS
from armwright.studies.base_checks import LOAD_FACTOR, OPENING, SLIP, Found, greatest, ratio
from armwright.studies.run import Floats

METHOD = (
    "tension: 'elastic group', the bolts' group about its own centroid (T = F/n + M y / sum y²), and 'pivot about the "
    "plate's edge', a stiff plate without preload that tilts about the edge or corner of its outline that comes to "
    "rest (T = M d / sum d²); the greater counts, times the prying factor. 'far bolts alone' is told beside, and "
    "does not count. Shear: as if friction bore nothing, F/n and M r / sum r². Slip: friction of the clamping "
    "that is left in each bolt, preload less tension by the elastic group"
)
_JOINT = "EN 1993-1-8, table 3.4 (memory), partial factor 1.25 in it; 1.5 for loads that vary (EN 1990, memory)"
_PROOF = "ISO 898-1 (memory)"
_PRACTICE = "common practice, no source"


def bolts(base: Any, outline: Floats | None, wrench: Floats, load_share: float) -> Found:
    """Of a Base with a pattern; ``wrench`` (rows, 6) on the face; ``outline`` of the plate (n, 2), if it is told."""
    told, found = base.bolts, Found()
    points = told.points
    names = [f"bolt {i + 1}" for i in range(len(points))]
    group = _core.elements.BoltGroup(points, np.zeros((0, 2)) if outline is None else outline)
    by_method = np.stack([group.elastic(wrench), group.pivot(wrench), group.far(wrench)])
    counted = np.maximum(np.where(np.isnan(by_method[:2]), -np.inf, by_method[:2]).max(axis=0), 0)
    unknown = np.isnan(by_method[:2]).all(axis=0)
    pull = np.where(unknown, np.nan, counted) * told.prying
    shears = group.shear(wrench)
    shear = np.linalg.norm(shears, axis=-1)

    found.coords |= {"bolt": np.array(names), "method": np.array(METHODS)}
    most, at = greatest(pull)
    most_shear, at_shear = greatest(shear)
    lead = np.where(np.isnan(by_method[:2]), -np.inf, by_method[:2])[:, at, np.arange(len(points))].argmax(axis=0)
    worst = int(at[int(np.where(np.isnan(most), -np.inf, most).argmax())])
    found.variables |= {
        "bolt_position": points, "bolt_tension": np.stack([greatest(each)[0] for each in by_method]),
        "bolt_pull": most, "bolt_pull_method": np.array(METHODS)[lead], "bolt_shear": most_shear,
        "worst_pull": pull[worst], "worst_shear": shears[worst], "worst_force": wrench[worst, :3],
        "worst_moment": wrench[worst, 3:],
    }  # fmt: skip
    found.rows |= {"bolt_pull": at, "bolt_shear": at_shear, "worst": np.array([worst])}
    found.attributes["prying_factor"] = told.prying
    _words(base, group, outline, unknown, shear, found)
    _grip(base, group, wrench, by_method[0], pull, names, found)
    _strength(told, pull, shear, load_share, names, found)
    return found


def _words(base: Any, group: Any, outline: Floats | None, unknown: Any, shear: Floats, found: Found) -> None:
    if base.bolts.prying_factor is None:
        found.mind.append("prying of the plate: no factor is told and 1 is taken; 1.0 to 1.3 is usual (common "
                             "practice, no source)")  # fmt: skip
    if outline is None:
        found.missing.append("bolts by tilting about the plate's edge, and the pressure under the plate: no plate is "
                             "told")  # fmt: skip
    if group.in_line:
        found.mind.append("bolts in one line bear no moment about that line: the elastic group tells only what it "
                             "can, the rest is the plate's edge's")  # fmt: skip
    if unknown.any():
        count = int(unknown.any(axis=1).sum())
        found.missing.append(f"tension of the bolts in {count} of {len(unknown)} rows: neither method bears the load")
    loose = int(np.isnan(shear).any(axis=1).sum())
    if loose:
        found.missing.append(f"shear of the bolts in {loose} of {len(shear)} rows: a single bolt bears no torsion")
    found.missing.append("fatigue of the bolts: preload them, and keep the joint closed")


def _grip(
    base: Any, group: Any, wrench: Floats, elastic: Floats, pull: Floats, names: list[str], found: Found
) -> None:
    """What the preload does: keeps the joint closed, and holds by friction."""
    told = base.bolts
    if told.preload is None:
        found.missing.append("friction grip and opening of the joint: no preload is told; the bolts bear all the shear")
        return
    preload = float(told.preload)
    found.attributes["preload"] = preload
    found.check("joint: opening", ratio(preload, pull), OPENING, names, f"preload over tension; {_PRACTICE}")
    if base.friction is None:
        found.missing.append("friction grip: no coefficient of friction of the face is told")
        return
    if np.isnan(elastic).any():
        found.missing.append("friction grip: the elastic group cannot tell what clamping is left")
        return
    held = group.slip(wrench, np.maximum(preload - elastic, 0), float(base.friction))[:, :1]
    found.check("joint: slip", held, SLIP, ["all bolts together"],
                f"friction of the clamping left, lower bound of limit analysis; {_PRACTICE}")  # fmt: skip


def _strength(told: Any, pull: Floats, shear: Floats, load_share: float, names: list[str], found: Found) -> None:
    """Against property class or proof strength, and against force limits that were told."""
    limits = [told.allowed_tension, told.allowed_shear]
    if any(limit is not None for limit in limits):
        allowed = [np.inf if limit is None else float(limit) for limit in limits]
        found.check("bolt: told limits", _core.elements.told_safety(pull, shear, *allowed), 1.0, names,
                    "tension and shear over what is allowed, added; the maker's approval decides")  # fmt: skip
        found.missing += [f"{key} of a bolt is not told, and does not count in the told limits"
                          for key, limit in zip(("allowed_tension", "allowed_shear"), limits, strict=True)
                          if limit is None]  # fmt: skip
    area = float(told.stress_area) if told.stress_area is not None else None
    if area is None and told.diameter is not None:
        area = _core.elements.stress_area(told.diameter, told.pitch)
    if area is None or (told.property_class is None and told.proof_strength is None):
        wanting = "size" if area is None else "property class or proof strength"
        found.missing.append(f"strength of the bolts by class: no {wanting} is told")
        return
    if told.property_class is not None and told.diameter is None:
        found.missing.append("strength of the bolts by class: no size is told, and some classes depend on it")
        return
    found.attributes |= {"stress_area": area, "load_share": load_share}
    preload = 0.0 if told.preload is None else float(told.preload)
    if told.property_class is not None:
        known = _core.elements.property_class(told.property_class, told.diameter)
        if known is None:
            raise InputError.of("property_class", repr(told.property_class), "a class of ISO 898-1, as \"8.8\"")
        proof = known.proof
        if not known.in_standard:
            found.mind.append(f"class {told.property_class} at {told.size} is beyond ISO 898-1, table 1 (memory): "
                                 "its values are taken as for smaller sizes; ask the maker")  # fmt: skip
        if not known.in_joints:
            found.mind.append(f"class {told.property_class} is not in EN 1993-1-8, clause 3.1.1 (memory): its rule "
                                 "is used with the lower share of shear")  # fmt: skip
        safety = _core.elements.joint_safety(known, area, pull, shear)
        found.check("bolt: tension and shear", safety, 1.5, names, _JOINT)
    else:
        proof = float(told.proof_strength)
        found.missing.append("bolt: tension and shear by EN 1993-1-8: no property class is told")
    found.attributes["proof_stress"] = proof
    against = _core.elements.proof_safety(proof, area, pull, shear, preload, load_share)
    found.variables["proof_safety"] = against.min(axis=0)
    found.check("bolt: proof stress", against, 1.0, names, f"equivalent stress of preload, tension and shear; {_PROOF}")
    factor = _core.elements.load_factor(proof, area, pull, preload, load_share)
    found.check("bolt: load factor", factor, LOAD_FACTOR, names,
                f"how often the tension could be there before proof load; {_PROOF}; wanted: {_PRACTICE}")  # fmt: skip
    used = preload / (proof * area)
    if used > 0.9:
        found.mind.append(f"the preload is {100 * used:.0f} % of proof load: 75 % is usual, 90 % the most (common "
                             "practice, no source)")  # fmt: skip
