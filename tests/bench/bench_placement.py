"""Places of a base scored against the obvious way: a Python loop over eaik, pinocchio and coal.

The loop moves, for each place, the work points and the fixtures to where they are seen from the base (as ours does),
asks eaik for all solutions of each point, keeps those within the joint limits, and asks pinocchio with coal for the
least distance and for the mass held. The same cell, places and points; points served and the worst limit margin are
compared."""

from __future__ import annotations

import time
from typing import Any

import numpy as np
from bench_reach_map import MARGIN, MOUNT, PeerCell, our_cell
from measure import Row, Size, processor_time

from armwright.describe import Load, Target
from armwright.designs.placement.place import numbers_of, shifts_at
from armwright.designs.placement.scoring import Scorer, Scoring
from armwright.studies.pieces import Pieces
from cases.arms import bench_boxes, spherical_arm
from cases.chain import Array

MASS = 1.0  # kg wanted at each point


def work_points(count: int) -> list[Target]:
    rng = np.random.default_rng(4)
    points = []
    for i in range(count):
        X, Q = np.eye(4), np.linalg.qr(rng.normal(size=(3, 3)))[0]
        X[:3, :3] = Q if np.linalg.det(Q) > 0 else -Q
        X[:3, 3] = MOUNT[:3, 3] + rng.uniform([-0.5, -0.5, 0.2], [0.5, 0.5, 1.0])
        points.append(Target(X, f"point {i}", load=Load(MASS)))
    return points


class PeerPlaces(PeerCell):
    """The peers' cell, its fixtures moved to where they are seen from the base."""

    def __init__(self) -> None:
        super().__init__(spherical_arm())
        boxes = [g for g in self.solids.geometryObjects if g.name.startswith("box")]
        self.boxes = list(zip(boxes, bench_boxes()[0], strict=True))

    def score(self, shifts: Array, targets: list[Target]) -> tuple[Array, Array]:
        """Points served and worst limit margin of each place."""
        served, worst = np.zeros(len(shifts), dtype=int), np.full(len(shifts), np.nan)
        for i, shift in enumerate(shifts):
            seen = np.linalg.inv(shift)
            for box, X in self.boxes:
                box.placement = self.pin.SE3(seen @ X)
            margins = []
            for target in targets:
                good = [f[0] for f in self.at(seen @ target.pose) if f[3] >= MASS]
                margins += [max(good)] if good else []
            served[i], worst[i] = len(margins), min(margins, default=np.nan)
        return served, worst


def rows(size: Size) -> list[Row]:
    count = 40 if size.batch < 5000 else 600
    targets, cell = work_points(11), our_cell()
    rng = np.random.default_rng(6)
    numbers = np.tile(numbers_of(MOUNT), (count, 1))
    numbers[:, :2] += rng.uniform(-0.4, 0.4, (count, 2))
    numbers[:, 3] = rng.uniform(-3, 3, count)
    floor = np.zeros(count, dtype=np.int64)
    asked = Scoring(
        cell.description, tuple(targets), (True, False, False), "continuous", MARGIN, None, False, (), (), (0.0, 1.0)
    )
    scorer = Scorer(asked, Pieces(None, None, 1))

    def ours() -> Any:
        return scorer.score(numbers, floor, 0.3)

    scored, peers = ours(), PeerPlaces()
    start = time.process_time()
    served, worst = peers.score(shifts_at(MOUNT, numbers, floor), targets)
    theirs = time.process_time() - start
    same = served == scored.served
    assert same.mean() > 0.98 and served.max() > 3, f"{(~same).sum()} of {count} places differ"
    both = same & (served > 0)
    assert np.mean(np.abs(worst[both] - scored.worst[both, 0, 0]) < 1e-6) > 0.98
    mine = [processor_time(ours) for _ in range(max(2, size.repeats // 3))]
    pairs = count * len(targets)
    return [
        Row(
            f"places scored by limit margin, {count} places × {len(targets)} points among 20 boxes",
            "loop",
            30.0,
            pairs / float(np.median(mine)),
            pairs / theirs,
            tuple(theirs / m for m in mine),
        )
    ]
