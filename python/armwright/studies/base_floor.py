"""What the base stands on: pressure under the plate or the feet, and whether what stands free tips over."""

from __future__ import annotations

from typing import Any

import numpy as np

from armwright import _core
from armwright.studies.base_checks import TIPPING, Found, greatest, ratio
from armwright.studies.run import Floats

METHOD = (
    "pressure: stiff plate on elastic ground that bears no tension, preload of the bolts added where it is told. "
    "Tipping: about every edge between the outer feet, the moment of the stand's own weight against that of all that "
    "the arm puts on it; feet are equally stiff and bear no pull"
)
_PRACTICE = "common practice, no source"
_CORNERS = 120  # of the outline of a round plate, within it


def outline_of(base: Any) -> Floats | None:
    """Corners of the plate, (n, 2), m; None: not told."""
    if base.plate_outline is not None:
        return np.array([[float(x), float(y)] for x, y in base.plate_outline])
    if base.plate is None:
        return None
    if isinstance(base.plate, tuple):
        a, b = (float(edge) / 2 for edge in base.plate)
        return np.asarray(np.array([[-a, -b], [a, -b], [a, b], [-a, b]]) + np.array(base.centre))
    turn = 2 * np.pi * np.arange(_CORNERS) / _CORNERS
    rim = np.stack([np.cos(turn), np.sin(turn)], axis=-1)
    return np.asarray(float(base.plate) / 2 * rim + np.array(base.centre))


def plate(base: Any, outline: Floats | None, wrench: Floats) -> Found:
    """Pressure under the plate, with preloaded bolts their clamping in it; what stands free has feet on the floor."""
    found = Found()
    if outline is None:
        return found
    found.variables["plate"] = outline
    if base.free_standing:
        return found
    pressed = wrench
    if base.bolts is not None and base.bolts.preload is not None:
        points, preload = base.bolts.points, float(base.bolts.preload)
        x, y = points.sum(axis=0)
        pressed = wrench + preload * np.array([0, 0, -len(points), -y, x, 0])
    under = _core.elements.footings(outline, pressed)
    pressure, contact = under[:, 3:4], under[:, 4]
    lifted = int(np.isnan(pressure).sum())
    if lifted:
        found.missing.append(f"pressure under the plate in {lifted} of {len(wrench)} rows: the load would tip or lift "
                             "it, and bolts without preload hold it")  # fmt: skip
    if lifted == len(wrench):
        return found
    most, at = greatest(pressure)
    least = int(np.where(np.isnan(pressure[:, 0]), np.inf, contact).argmin())
    found.attributes |= {"floor_pressure": float(most[0]), "contact_share": float(contact[least])}
    found.rows |= {"floor_pressure": at, "contact_share": np.array([least])}
    _against(base, pressure, ["under the plate"], found)
    return found


def _against(base: Any, pressure: Floats, parts: list[str], found: Found) -> None:
    if base.allowed_pressure is None:
        found.missing.append("pressure against what the ground bears: no allowed pressure is told")
        return
    safety = ratio(float(base.allowed_pressure), pressure)
    found.check("floor pressure", safety, 1.0, parts, "greatest pressure against the allowed one that was told")


def stand(base: Any, wrench: Floats, gravity: Floats) -> Found:
    """Of a pedestal or cart that is not bolted down. ``gravity``: in the axes of the face, m/s²."""
    found = Found()
    needed = ("stand_mass", "stand_centre", "stand_height", "feet")
    absent = [key for key in needed if getattr(base, key) is None]
    found.missing.append("sliding of the stand on the floor: friction under feet is not described")
    if absent:
        found.missing.append(f"tipping over of what stands free: not told: {', '.join(absent)}")
        return found
    height = float(base.stand_height)
    # About the point of the floor below the origin of the face; the floor lies parallel to the face.
    arm = wrench.copy()
    arm[:, 3:] += np.cross([0.0, 0.0, height], wrench[:, :3])
    weight = float(base.stand_mass) * gravity
    lever = np.array([float(v) for v in base.stand_centre]) + np.array([0.0, 0.0, height])
    own = np.concatenate([weight, np.cross(lever, weight)])[None]
    feet = np.array([[float(x), float(y)] for x, y in base.feet])
    hull = _core.elements.convex_hull(feet)
    by_arm, by_stand = (_core.elements.tipping_moments(hull, load) for load in (arm, own))
    keeps = np.maximum(-by_arm, 0) + np.maximum(-by_stand, 0)
    tips = np.maximum(by_arm, 0) + np.maximum(by_stand, 0)
    safety = ratio(keeps, tips)
    all_of_it = arm + own
    with np.errstate(divide="ignore", invalid="ignore"):
        inside = np.where(all_of_it[:, 2:3] < 0, (by_arm + by_stand) / all_of_it[:, 2:3], -np.inf)
    least, at = greatest(-safety)
    found.variables |= {
        "foot_position": feet, "edge_from": hull, "edge_to": np.roll(hull, -1, axis=0), "tip_safety": -least,
        "tip_distance": inside.min(axis=0),
    }  # fmt: skip
    found.coords |= {"foot": np.arange(len(feet)), "edge": np.arange(len(hull))}
    found.rows["tip"] = at
    edges = [f"over the edge from ({a[0]:.3g}, {a[1]:.3g}) to ({b[0]:.3g}, {b[1]:.3g}) m"
             for a, b in zip(hull, np.roll(hull, -1, axis=0), strict=True)]  # fmt: skip
    found.check("tipping over", safety, TIPPING, edges, f"moment that keeps it over moment that tips it; {_PRACTICE}")
    _feet(base, feet, all_of_it, found)
    return found


def _feet(base: Any, feet: Floats, load: Floats, found: Found) -> None:
    forces = _core.elements.feet_forces(feet, load)
    tips = np.isnan(forces).any(axis=1)
    if tips.any():
        found.missing.append(f"forces on the feet in {int(tips.sum())} of {len(load)} rows: it tips over there")
    most, at = greatest(forces)
    least, _ = greatest(-forces)
    found.variables |= {"foot_force": most, "foot_force_least": -least}
    if base.foot_area is None:
        found.missing.append("pressure under the feet: no area of a foot is told")
        return
    if tips.all():
        return
    pressure = np.where(np.isnan(forces), np.inf, forces) / float(base.foot_area)
    heaviest = int(np.where(np.isnan(most), -np.inf, most).argmax())
    found.attributes["floor_pressure"] = float(most[heaviest]) / float(base.foot_area)
    found.rows["floor_pressure"] = at[heaviest : heaviest + 1]
    _against(base, pressure, [f"foot {i + 1}" for i in range(len(feet))], found)
