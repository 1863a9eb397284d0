"""Invented results and an invented cell, shaped like real ones, for tests of stores and pictures.

The arm: a base 0.45 m high with a shoulder offset of 0.12 m, links of 0.62 m and 0.55 m, a tool 0.18 m long, on a 2 m
track along x. Its "reach" is a torus-like region written down as a formula, not computed by the program.
"""

from __future__ import annotations

import numpy as np
import xarray as xr

from armwright.results import Scene, SceneJoint, SceneTarget, Solid, make_dataset

DIGEST = "0123456789abcdef" * 4
JOINTS = ("track", "axis 1", "axis 2", "axis 3", "axis 4", "axis 5", "axis 6")
ARM = "kiln loader"
SHOULDER = (0.12, 0.45)  # distance from axis 1, height, m
OUTER, INNER = 1.29, 0.34


def pose(x: float = 0, y: float = 0, z: float = 0, turn: str = "", angle: float = 0) -> np.ndarray:
    """A pose: a turn about one axis ("x", "y", "z"), then a shift."""
    made = np.eye(4)
    made[:3, 3] = x, y, z
    c, s = np.cos(angle), np.sin(angle)
    i, j = {"": (0, 1), "x": (1, 2), "y": (2, 0), "z": (0, 1)}[turn]
    made[i, i], made[i, j], made[j, i], made[j, j] = c, -s, s, c
    return made


def grid(spacing: float) -> dict[str, np.ndarray]:
    side = np.arange(-np.ceil(1.5 / spacing), np.ceil(1.5 / spacing) + 1) * spacing
    up = np.arange(-np.ceil(0.7 / spacing), np.ceil(1.9 / spacing) + 1) * spacing
    return {"x": side, "y": side, "z": up}


def _depth(x: np.ndarray, y: np.ndarray, z: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Distance from axis 1, and how deep inside the region: 0 at its rim, 1 in mid-shell, negative outside."""
    radius = np.hypot(x, y)
    shell = np.hypot(radius - SHOULDER[0], z - SHOULDER[1])
    turned = np.abs(np.arctan2(y, x)) < np.radians(165)
    deep = 1 - ((shell - (OUTER + INNER) / 2) / ((OUTER - INNER) / 2)) ** 2
    return radius, np.where(turned & (radius > 0.1), deep, -1)


def reach_map(spacing: float = 0.1) -> xr.Dataset:
    axes = grid(spacing)
    x, y, z = np.meshgrid(*axes.values(), indexing="ij")
    _, deep = _depth(x, y, z)
    reachable = deep > 0
    inside = np.clip(deep, 0, 1)
    index = np.where(reachable, np.clip(np.round((0.04 + 1.25 * inside**0.7) * 192) / 192, 1 / 192, 1), 0.0)
    nan = np.where(reachable, 0.0, np.nan)
    return make_dataset(
        "reach_map",
        {
            "reach_index": index, "reachable": reachable, "limit_margin": 0.9 * inside + nan,
            "manipulability": 0.11 * inside**0.5 * np.hypot(x, y) + nan, "clearance": 0.02 + 0.3 * inside + nan,
        },
        axes,
        {
            "spacing": spacing, "directions": 48, "spins": 4, "margin": 0.02, "reachable_volume": 8.214,
            "reachable_volume_error": 0.061, "dexterous_volume": 3.12, "dexterous_volume_error": 0.09,
            "dexterous_share": 1.0, "base_position": (0.0, 0.0, 0.0),
        },
        DIGEST, ARM,
    )


def payload_map(spacing: float = 0.1) -> xr.Dataset:
    axes = grid(spacing)
    x, y, z = np.meshgrid(*axes.values(), indexing="ij")
    radius, deep = _depth(x, y, z)
    by_joint = _held(radius, z)
    held, joint = by_joint.min(axis=0), np.array([2, 3, 5])[by_joint.argmin(axis=0)]
    inside = deep > 0
    distance = np.arange(0.05, 1.5, 0.05)
    height = np.arange(-0.6, 1.81, 0.3)
    r, h = np.meshgrid(distance, height)
    _, curve_deep = _depth(r, np.zeros_like(r), h)
    curve = np.where(curve_deep > 0, _held(r, h).min(axis=0), np.nan)
    reached = ~np.isnan(curve).all(axis=0)
    best = np.where(reached, np.where(np.isnan(curve), -1.0, curve).max(axis=0), np.nan)
    return make_dataset(
        "payload_map",
        {
            "mass_greatest": np.where(inside, held, np.nan), "mass_least": np.where(inside, 0.8 * held, np.nan),
            "limiting_joint": np.where(inside, joint, -1).astype(np.int8),
            "limiting_limit": np.where(inside, 0, -1).astype(np.int8),
            "curve_mass": curve, "curve_mass_any_height": best,
        },
        axes | {"joint_names": JOINTS, "distance": distance, "height": height},
        {"load_centre": (0.0, 0.0, 0.06), "attitude": "any", "limit": "continuous", "base_position": (0.0, 0.0, 0.0)},
        DIGEST, ARM,
    )


def _held(radius: np.ndarray, z: np.ndarray) -> np.ndarray:
    """Mass held by axis 2, axis 3 and axis 5, kg: torque over lever."""
    lever = np.maximum(np.abs(radius - SHOULDER[0]), 0.05)
    elbow = np.maximum(0.62 * np.abs(np.sin(2.2 * z + 0.4)) + 0.22 * radius, 0.12)
    return np.minimum(np.stack([182 / (9.80665 * lever) - 5.5, 70 / (9.80665 * elbow) - 2,
                                np.full_like(radius, 17.4)]), 40.0)


def outlines() -> xr.Dataset:
    turn = np.linspace(-np.pi / 2, np.pi / 2, 121)
    def arc(radius: float) -> np.ndarray:
        r, z = SHOULDER[0] + radius * np.cos(turn), SHOULDER[1] + radius * np.sin(turn)
        return np.column_stack([r, z])
    def closed(inner: float, outer: float) -> np.ndarray:
        ring = np.vstack([arc(outer), arc(inner)[::-1]])
        return np.vstack([ring, ring[:1]])
    sweep = np.radians(np.linspace(-165, 165, 201))
    def circle(radius: float) -> np.ndarray:
        return radius * np.column_stack([np.cos(sweep), np.sin(sweep)])
    def sector(inner: float, outer: float) -> np.ndarray:
        ring = np.vstack([circle(outer), circle(inner)[::-1]])
        return np.vstack([ring, ring[:1]])
    gap = np.full((1, 2), np.nan)
    return make_dataset(
        "outlines",
        {
            "section": np.vstack([closed(INNER, OUTER), gap, arc(INNER + 0.1)]),
            "plan": sector(0.2, SHOULDER[0] + OUTER),
            "wrist_section": closed(0.30, 1.11), "wrist_plan": sector(0.15, SHOULDER[0] + 1.11),
            "joint_lower": np.array([0.0, *np.radians([-165, -60, -130, -180, -115, -350])]),
            "joint_upper": np.array([2.0, *np.radians([165, 115, 80, 180, 115, 350])]),
        },
        {"joint": JOINTS, "joint_unit": ["m"] + ["rad"] * 6},
        {"base_position": (0.0, 0.0, 0.0)},
        DIGEST, ARM,
    )


TARGETS = {  # name: x, y, z, served, reason
    "rack-left top": (0.35, 1.05, 1.10, True, ""),
    "rack-left low": (0.35, 1.05, 0.30, True, ""),
    "rack-right top": (1.55, 1.05, 1.10, True, ""),
    "kiln front": (2.45, 0.15, 0.80, True, ""),
    "kiln back": (3.35, 0.15, 0.80, False, "out of reach by 38 mm"),
    "glaze tub": (1.2, -0.85, 0.45, False, 'fixture "post" overlapped by 12 mm'),
    "drying board": (0.0, -0.80, 0.90, True, ""),
}
_Q = (0.4, 0.6, 0.35, -0.5, 0.2, 0.9, 0.0)


def check_targets() -> xr.Dataset:
    served = np.array([row[3] for row in TARGETS.values()])
    nan = np.where(served, 0.0, np.nan)
    return make_dataset(
        "check_targets",
        {
            "served": served, "reason": [row[4] for row in TARGETS.values()], "q": np.outer(1 + nan, _Q),
            "position": np.array([row[:3] for row in TARGETS.values()]), "limit_margin": 0.4 + nan,
            "clearance": 0.05 + nan, "payload": 7.2 + nan, "payload_wanted": np.full(len(TARGETS), 6.0),
        },
        {"target": list(TARGETS), "joint": JOINTS, "joint_unit": ["m"] + ["rad"] * 6},
        {"limit": "continuous"},
        DIGEST, ARM,
    )


def clearance() -> xr.Dataset:
    rng = np.random.default_rng(7)
    distance = rng.normal(0.1, 0.08, (4, 5))
    names = np.full(distance.shape, "forearm")
    return make_dataset(
        "clearance",
        {"distance": distance, "point_a": rng.normal(size=(4, 5, 3)), "point_b": rng.normal(size=(4, 5, 3)),
         "name_a": names, "name_b": np.full(distance.shape, "post")},
        {}, {}, DIGEST, ARM,
    )


def motion(count: int = 301) -> xr.Dataset:
    """A cycle of 10 s in three moves: to a load, with it, and on without it."""
    time = np.linspace(0, 10, count)
    swing = 0.3 * np.sin(2 * np.pi * time / 10)
    q = np.outer(np.ones(count), _Q) + np.outer(swing, (1, 1, 0.2, -0.3, 0.4, 0.1, 2))
    third = np.minimum(3 * np.arange(count) // (count - 1), 2)
    still = np.zeros((count, 7))
    tool = np.zeros((count, 3))
    return make_dataset(
        "motion",
        {
            "time": time, "q": q, "speed": still, "acceleration": still, "tool_position": tool, "tool_axis": tool,
            "tool_speed": 0.5 + swing, "tool_turn_speed": 0 * time, "move_index": third,
            "load_index": np.where(third == 1, 0, -1), "limit": 0 * third, "limit_axis": 0 * third - 1,
            "clearance": 0.2 + 0.3 * swing, "move_start": np.array([0, 10 / 3, 20 / 3]),
            "move_end": np.array([10 / 3, 20 / 3, 10]), "move_tilt": np.full(3, np.nan),
        },
        {"joint": JOINTS, "joint_unit": ["m"] + ["rad"] * 6, "move": ["to the ware", "with the ware", "back"],
         "load_name": ["ware"]},
        {"cycle_name": "to and fro", "duration": 10.0},
        DIGEST, ARM,
    )  # fmt: skip


def scene() -> Scene:
    quarter = np.pi / 2
    joints = (
        SceneJoint("track", "prismatic", pose(z=0.12), (1, 0, 0), 0.0, 2.0),
        SceneJoint("axis 1", "revolute", pose(z=0.06), (0, 0, 1), *np.radians([-165, 165])),
        SceneJoint("axis 2", "revolute", pose(x=0.12, z=0.27), (0, 1, 0), *np.radians([-60, 115])),
        SceneJoint("axis 3", "revolute", pose(z=0.62), (0, 1, 0), *np.radians([-130, 80])),
        SceneJoint("axis 4", "revolute", pose(x=0.20, z=0.05), (1, 0, 0), *np.radians([-180, 180])),
        SceneJoint("axis 5", "revolute", pose(x=0.35), (0, 1, 0), *np.radians([-115, 115])),
        SceneJoint("axis 6", "revolute", pose(x=0.08, turn="y", angle=quarter), (0, 0, 1), *np.radians([-350, 350])),
    )
    triangle = np.array([[0, 0, 0], [0.5, 0, 0], [0.25, 0.4, 0], [0.25, 0.15, 0.4]], float)
    faces = np.array([[0, 2, 1], [0, 1, 3], [1, 2, 3], [2, 0, 3]])
    solids = (
        Solid("box", "rail", "track", pose(1.0, 0, 0.05), size=(2.5, 0.3, 0.1)),
        Solid("box", "carriage", "track", pose(0, 0, 0.01), link=0, size=(0.4, 0.36, 0.06)),
        Solid("cylinder", "base", "link", pose(0, 0, 0.10), link=0, radius=0.12, length=0.14),
        Solid("cylinder", "turret", "link", pose(0.03, 0, 0.18), link=1, radius=0.11, length=0.24),
        Solid("capsule", "upper arm", "link", pose(0, 0.0, 0.31), link=2, radius=0.065, length=0.62),
        Solid("capsule", "elbow", "link", pose(0.02, 0, 0.0, "x", quarter), link=3, radius=0.075, length=0.12),
        Solid("capsule", "forearm", "link", pose(0.14, 0, 0, "y", quarter), link=4, radius=0.05, length=0.3),
        Solid("sphere", "wrist", "link", pose(), link=5, radius=0.06),
        Solid("cylinder", "flange", "link", pose(0, 0, 0.01), link=6, radius=0.045, length=0.03),
        Solid("box", "fork", "tool", pose(0, 0, 0.1), link=6, size=(0.05, 0.16, 0.16)),
        Solid("box", "ware", "load", pose(0.06, 0, 0.16), link=6, size=(0.06, 0.22, 0.12), body="ware"),
        Solid("half_space", "floor", "fixture", pose()),
        Solid("half_space", "wall", "fixture", pose(0, 1.65, 0, "x", quarter)),
        Solid("box", "rack-left", "fixture", pose(0.35, 1.3, 0.75), size=(0.7, 0.4, 1.5), clearance=0.03),
        Solid("box", "rack-right", "fixture", pose(1.55, 1.3, 0.75), size=(0.7, 0.4, 1.5), clearance=0.03),
        Solid("box", "kiln left wall", "fixture", pose(2.95, 0.6, 0.8), size=(0.9, 0.12, 1.2)),
        Solid("box", "kiln right wall", "fixture", pose(2.95, -0.3, 0.8), size=(0.9, 0.12, 1.2)),
        Solid("box", "kiln back wall", "fixture", pose(3.46, 0.15, 0.8), size=(0.12, 1.02, 1.2)),
        Solid("cylinder", "tub", "fixture", pose(1.2, -0.95, 0.2), radius=0.3, length=0.4),
        Solid("cylinder", "post", "fixture", pose(0.75, -0.75, 0.9), radius=0.06, length=1.8, clearance=0.05),
        Solid("convex_hull", "wedge", "fixture", pose(-0.75, -0.4, 0), vertices=triangle),
        Solid("mesh", "prism", "fixture", pose(-0.75, 0.6, 0), vertices=triangle, triangles=faces),
    )
    targets = tuple(
        SceneTarget(name, pose(x, y, z, "y", 0.8 * np.pi), good, reason, _Q if good else None)
        for name, (x, y, z, good, reason) in TARGETS.items()
    )
    return Scene("pottery, first layout", ARM, joints, _Q, solids, targets, base=pose(z=0.04),
                 tool=pose(z=0.18), has_track=True, load="ware", left_out=_apart(solids))


def _apart(solids: tuple[Solid, ...]) -> tuple[tuple[int, int], ...]:
    """Neighbours along the arm, and what stands on the floor or runs over it."""
    def together(a: Solid, b: Solid) -> bool:
        fixture = "fixture" in (a.role, b.role)
        return abs(a.link - b.link) < 2 and (not fixture or bool({a.name, b.name} & {"floor", "rail"}))
    return tuple((i, j) for i, a in enumerate(solids) for j, b in enumerate(solids[:i])
                 if max(a.link, b.link) >= 0 and together(a, b))


def part_loads() -> xr.Dataset:
    """Some parts at rest, in a cycle and in stops: good, not known in stops, too weak, of the cycle alone."""
    nan = np.nan
    rows = [  # group, part, quantity, unit, value, bears, safety, wanted, looked at
        (0, "axis 1: bearing", "radial load", "N", (100.0, 150.0, 420.0), (nan,) * 3, (nan,) * 3, nan, (1, 1, 1)),
        (0, "axis 1: bearing", "static equivalent load", "N", (1000.0, 2000.0, 5000.0), (16e3,) * 3,
         (16.0, 8.0, 3.2), 3.0, (1, 1, 1)),
        (0, "axis 2: bearing", "radial load", "N", (0.0, 2e-14, 12345.6), (nan,) * 3, (nan,) * 3, nan, (1, 1, 1)),
        (0, "axis 2: bearing", "static equivalent load", "N", (10.0, 20.0, nan), (9e3, 9e3, nan), (900.0, 450.0, nan),
         1.5, (1, 1, 1)),
        (3, "bolt 1", "safety against proof stress", "1", (nan,) * 3, (nan,) * 3, (1.2, 1.3, np.inf), 1.0, (1, 1, 1)),
        (3, "bolt 2", "safety against proof stress", "1", (nan,) * 3, (nan,) * 3, (0.8, 1.3, 1.1), 1.0, (1, 1, 1)),
        (9, "track: motor", "peak torque", "1", (nan, 0.5, nan), (nan, 1.0, nan), (nan, 2.0, nan), 1.0, (0, 1, 0)),
        (6, "block", "life", "s", (nan, 7.2e7, nan), (nan,) * 3, (nan,) * 3, nan, (0, 1, 0)),
    ]  # fmt: skip
    cases = np.array([["held", "the cycle", "category 0 stop of axis 1"]] * len(rows))
    times = np.array([[nan, 1.0, 0.12]] * len(rows))
    columns = list(zip(*rows, strict=True))
    return make_dataset(
        "part_loads",
        {
            "value": np.array(columns[4]), "bears": np.array(columns[5]), "safety": np.array(columns[6]),
            "wanted": np.array(columns[7]), "looked_at": np.array(columns[8], bool), "case": cases, "time": times,
        },
        {
            "situation": np.array(["rest", "cycle", "stop"]), "figure": np.arange(len(rows)),
            "group": np.array(columns[0]), "part": np.array(columns[1]), "quantity": np.array(columns[2]),
            "unit": np.array(columns[3]),
        },
        {
            "weakest": "bolt 2: safety against proof stress", "weakest_share": 0.8, "reliability": 0.9,
            "missing": "axis 2: static rating", "warnings": "a warning", "caution": "mind <this> & that",
        },
        DIGEST,
        ARM,
    )  # fmt: skip
