"""What pulls a track's carriage: what rack, belt or screw bears, against what is told."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np

from armwright import _core
from armwright.studies.rows_told import Told, placed
from armwright.studies.run import Arrays, Floats

BUCKLING_WANTED = 2.0  # common practice, as makers of screws have it
WHIRLING_WANTED = 1.25  # common practice: at most 80 % of the critical speed
_NO_SPEED = 1e-9  # m/s, m/s²; less is rounding
_ENDS = {
    "fixed, free": _core.elements.ScrewEnds.fixed_free,
    "supported, supported": _core.elements.ScrewEnds.supported_supported,
    "fixed, supported": _core.elements.ScrewEnds.fixed_supported,
    "fixed, fixed": _core.elements.ScrewEnds.fixed_fixed,
}


class Check(NamedTuple):
    """One figure of a feed. ``allowed`` NaN: not told, or nothing is; ``wanted``: the least safety that will do."""

    name: str
    value: float
    unit: str
    allowed: float = math.nan
    wanted: float = 1.0
    by_speed: bool = False


def feed_forces(track: Any, rows: Any, along: Floats) -> Floats:
    """What the feed pushes the carriage with along the track in every row, N: against what all that it carries puts on
    it, and the friction of the track's drive at the carriage while it moves. (rows,)"""
    speed = np.asarray(rows.qd, float)[:, 0]
    friction = track.drive.friction if track.drive is not None else None
    if friction is None:
        return -along
    forward, backward = (float(value) for value in friction.coulomb)
    way = _way(rows)
    rubs = np.where(way > 0, forward, np.where(way < 0, -backward, 0.0))
    return -along + rubs + float(friction.viscous) * speed


def _way(rows: Any) -> Floats:
    """Which way the carriage goes in every row: -1, 0, 1. Where it comes to rest or sets off it has no speed, or one of
    rounding: there friction still, or already, acts the way that it goes in the row before, else in the one after."""
    speed, acceleration = np.asarray(rows.qd, float)[:, 0], np.asarray(rows.qdd, float)[:, 0]
    case = np.asarray(rows.case)
    way = np.where(np.abs(speed) > _NO_SPEED, np.sign(speed), 0.0)
    same = case[1:] == case[:-1]
    before, after = np.r_[0.0, np.where(same, way[:-1], 0.0)], np.r_[np.where(same, way[1:], 0.0), 0.0]
    turns = (way == 0) & (np.abs(acceleration) > _NO_SPEED)
    return np.asarray(np.where(turns, np.where(before != 0, before, after), way))


class MotorShare(NamedTuple):
    """What the drive check says of a part of the track's drive: its limit, load over what is allowed, and when."""

    name: str
    share: float
    time: float


def feed_figures(
    track: Any, rows: Any, force: Floats, motor: Sequence[MotorShare], told: Told
) -> tuple[list[str], Arrays]:
    """Names of the checks, and their figures over (feed_check); those of the drive last."""
    worst, fastest = int(np.abs(force).argmax()), int(np.abs(np.asarray(rows.qd)[:, 0]).argmax())
    most, speed = float(abs(force[worst])), float(abs(rows.qd[fastest, 0]))
    feed = track.feed
    if feed is None:
        told.missing.append("feed: rack, belt or screw not told: only the force along the track is")
    kinds: dict[str, Any] = {"RackFeed": _rack, "BeltFeed": _belt, "ScrewFeed": _screw}
    checks = [Check("force along the track", most, "N", _told(getattr(feed, "allowed_force", None)))]
    if feed is not None:
        if type(feed).__name__ == "BeltFeed":  # there it is a strand's
            checks = [Check("force along the track", most, "N")]
        elif feed.allowed_force is None:
            told.missing.append(f"{feed.name}: allowed force not told: the force along the track is not judged")
        checks += kinds[type(feed).__name__](track, feed, most, speed, told)
    rows_of = [fastest if check.by_speed else worst for check in checks]
    where = placed(rows, {"feed": rows_of + [-1] * len(motor)})
    where["feed_time"][len(checks) :] = [part.time for part in motor]
    checks += [Check(part.name, part.share, "1", 1.0) for part in motor]
    safety = [_safety(check) for check in checks]
    for check, value in zip(checks, safety, strict=True):
        if value < check.wanted:
            told.warnings.append(f"feed: {check.name}: safety {value:.3g}, less than {check.wanted:g}")
    return [check.name for check in checks], {
        "feed_value": np.array([check.value for check in checks]),
        "feed_unit": np.array([check.unit for check in checks]),
        "feed_allowed": np.array([check.allowed for check in checks]),
        "feed_safety": np.array(safety),
        "feed_wanted": np.array([check.wanted for check in checks]),
        **where,
    }


def _safety(check: Check) -> float:
    if math.isnan(check.allowed) or math.isnan(check.value):
        return math.nan
    return math.inf if check.value == 0 else check.allowed / check.value


def _told(value: Any) -> float:
    return math.nan if value is None else float(value)


def _rack(track: Any, rack: Any, force: float, speed: float, told: Told) -> list[Check]:
    angles = rack.numbers
    _, radial, axial, across = _core.elements.rack_forces(force, angles["pressure_angle"], angles["helix"])
    checks = [Check("teeth: parting force", radial, "N")]
    checks += [Check("teeth: force along the pinion's axis", axial, "N")] if axial > 0 else []
    checks.append(Check("pinion shaft: force across", across, "N", _told(rack.allowed_shaft_force)))
    if rack.allowed_shaft_force is None:
        told.missing.append(f"{rack.name}: allowed shaft force not told: the force across the pinion's shaft is not "
                            "judged")  # fmt: skip
    told.missing.append(f"{rack.name}: which way its teeth face is not described: what their parting force, and with a "
                        "helix that along the pinion's axis, add to the blocks' loads is not counted")  # fmt: skip
    radius, teeth = track.pinion_radius, track.pinion_teeth
    if rack.overhang is None or radius is None:
        told.missing.append(f"{rack.name}: overhang or radius of the pinion not told: the bending of its shaft is left "
                            "out")  # fmt: skip
    else:
        moment = _core.elements.pinion_bending(
            force, angles["pressure_angle"], angles["helix"], 2 * radius, float(rack.overhang)
        )
        checks.append(Check("pinion shaft: bending moment", moment, "N*m"))
    lacking = [word for word, value in (("face width", rack.face_width), ("teeth", teeth)) if value is None]
    if lacking:
        told.missing.append(f"{rack.name}: {' and '.join(lacking)} not told: the bending of its teeth is left out")
        return checks
    return checks + _teeth(rack, force, float(teeth), told)


def _teeth(rack: Any, force: float, teeth: float, told: Told) -> list[Check]:
    helix = rack.numbers["helix"]
    if abs(rack.numbers["pressure_angle"] - math.radians(20)) > 1e-6:
        told.missing.append(f"{rack.name}: Lewis's form factors here are those of 20 deg: the bending of its teeth is "
                            "left out")  # fmt: skip
        return []
    stress = _core.elements.tooth_foot_stress(force, float(rack.face_width), float(rack.module), teeth, helix)
    if math.isnan(stress):
        told.missing.append(f"{rack.name}: Lewis's form factors begin at 12 teeth: the bending of its {teeth:g} is "
                            "left out")  # fmt: skip
        return []
    if rack.allowed_stress is None:
        told.missing.append(f"{rack.name}: allowed stress not told: that at the foot of its teeth is not judged")
    return [Check("teeth: stress at the foot", stress, "Pa", _told(rack.allowed_stress))]


def _belt(track: Any, belt: Any, force: float, speed: float, told: Told) -> list[Check]:
    if belt.preload is None:
        told.missing.append(f"{belt.name}: preload not told: neither the tight nor the slack strand is known")
        return []
    tight, _ = _core.elements.belt_tensions(force, float(belt.preload), 0.0)
    checks = [
        Check("belt: tight strand, carriage at the driving pulley", tight, "N", _told(belt.allowed_force)),
        Check("belt: preload that keeps the slack strand tight", force, "N", float(belt.preload)),
    ]
    if belt.allowed_force is None:
        told.missing.append(f"{belt.name}: allowed force not told: its tight strand is not judged")
    if force > float(belt.preload):
        told.warnings.append(f"{belt.name}: the slack strand can go loose, with the carriage far from the driving "
                             f"pulley: {force:.4g} N pulled, {float(belt.preload):.4g} N preload")  # fmt: skip
    if belt.specific_stiffness is None or belt.length is None:
        told.missing.append(f"{belt.name}: specific stiffness or length not told: how far it gives is left out")
        return checks
    give = force / _core.elements.belt_stiffness(float(belt.specific_stiffness), float(belt.length))
    return [*checks, Check("belt: how far it gives, amid its loop", give, "m")]


def _screw(track: Any, screw: Any, force: float, speed: float, told: Told) -> list[Check]:
    checks = []
    lead = track.drive.stages[-1].lead if track.drive is not None and track.drive.stages else None
    turning = math.nan if lead is None else 2 * math.pi * speed / float(lead)
    if lead is None:
        told.missing.append(f"{screw.name}: no lead told (the drive's last stage has it): how fast it turns is not "
                            "known")  # fmt: skip
    else:
        checks.append(Check("screw: speed", turning, "rad/s", _told(screw.max_speed), by_speed=True))
        if screw.max_speed is None:
            told.missing.append(f"{screw.name}: greatest speed not told: how fast it turns is judged by whirling only")
    shape = {"root diameter": screw.root_diameter, "length": screw.length, "ends": screw.ends}
    lacking = [word for word, value in shape.items() if value is None]
    if lacking:
        told.missing.append(f"{screw.name}: {', '.join(lacking)} not told: buckling and whirling are left out")
        return checks
    d, length, ends, material = float(screw.root_diameter), float(screw.length), _ENDS[screw.ends], screw.material
    if material.yield_strength is None:
        told.missing.append(f"{screw.name}: no yield strength of {material.name} told: buckling is left out")
    else:
        buckles = _core.elements.strut_force(
            d, length, float(material.elastic_modulus), float(material.yield_strength), ends
        )
        checks.append(Check("screw: buckling", force, "N", buckles, BUCKLING_WANTED))
    if material.density is None:
        told.missing.append(f"{screw.name}: no density of {material.name} told: whirling is left out")
    elif lead is not None:
        modulus, density = float(material.elastic_modulus), float(material.density)
        whirls = _core.elements.whirling_speed(d, length, modulus, density, ends)
        checks.append(Check("screw: whirling", turning, "rad/s", whirls, WHIRLING_WANTED, by_speed=True))
    return checks
