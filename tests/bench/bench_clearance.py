"""Least distance and the yes/no of a 7-joint arm of capsules among twenty boxes, self pairs included, against coal."""

from __future__ import annotations

import numpy as np
from measure import Row, Size, compare
from shared import batch, surrounded

from cases.arms import track_arm

MARGIN = 0.02  # m


def agree(count: int) -> None:
    cell, coal = surrounded()
    q = batch(track_arm(), count, seed=5)
    ours = cell.clearance(q)["distance"].values
    _, naive = coal.least_distance(q)
    _, pruned = coal.least_distance_pruned(q)
    apart = naive > 0
    np.testing.assert_allclose(ours[apart], naive[apart], atol=2e-6)
    np.testing.assert_allclose(pruned[apart], naive[apart], atol=2e-6)
    assert (ours[~apart] <= 2e-6).all()
    sure = np.abs(naive - MARGIN) > 1e-5
    for _, clear in (coal.is_clear(q, MARGIN), coal.is_clear_tree(q, MARGIN)):
        np.testing.assert_array_equal(clear[sure], (naive > MARGIN)[sure])
    np.testing.assert_array_equal(np.asarray(cell.is_clear(q, MARGIN))[sure], (naive > MARGIN)[sure])


def rows(size: Size) -> list[Row]:
    cell, coal = surrounded()
    agree(min(2000, size.batch))
    q = batch(track_arm(), size.batch, seed=6)
    few = np.ascontiguousarray(q[: size.cut(0.1)])
    pairs = coal.pair_count

    def distances(rows: np.ndarray) -> object:
        return cell.clearance(rows)

    return [
        compare(f"least distance, {pairs} pairs, peer asks every pair", len(few), lambda: distances(few),
                {"coal": lambda: coal.least_distance(few)[0]}, size.repeats),
        compare(f"least distance, {pairs} pairs, peer best first", len(q), lambda: distances(q),
                {"coal": lambda: coal.least_distance_pruned(q)[0]}, size.repeats),
        compare(f"clear or not, {pairs} pairs, peer stops early", len(q), lambda: cell.is_clear(q, MARGIN),
                {"coal": lambda: coal.is_clear(q, MARGIN)[0]}, size.repeats),
        compare(f"clear or not, {pairs} pairs, peer with its tree", len(q), lambda: cell.is_clear(q, MARGIN),
                {"coal": lambda: coal.is_clear_tree(q, MARGIN)[0]}, size.repeats),
    ]  # fmt: skip
