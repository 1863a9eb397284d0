"""What the bench files share: the arms and the batches."""

from __future__ import annotations

import tempfile
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np
import peer

import armwright as aw
from cases.arms import bench_boxes, general_arm, spherical_arm, three_parallel_arm, track_arm
from cases.chain import Array, Chain

native = True
"""Whether the peers' builds for this machine's own instruction set take part (the smoke test leaves them out)."""


def builds(name: str) -> list[str]:
    """The peer's libraries. Without those for this machine pinocchio and coal are asked in the one for whole maps,
    which holds them too: compiling them a second time takes minutes."""
    if native:
        return [name] if name == "coal" else [name, f"{name}_native"]
    return ["map" if name in ("pin", "coal") else name]


def loaded(chain: Chain) -> Any:
    """The chain as armwright reads it from an arm file."""
    with tempfile.TemporaryDirectory() as folder:
        return aw.load_arm(chain.write_toml(Path(folder)))


@lru_cache
def seven() -> tuple[Any, dict[str, peer.Pin]]:
    """The 7-joint arm, track and six: ours, and pinocchio's builds."""
    chain = track_arm()
    return loaded(chain), {name: peer.Pin(chain, name) for name in builds("pin")}


@lru_cache
def closed_form(name: str) -> tuple[Any, Chain, dict[str, peer.Eaik]]:
    chain = {"spherical": spherical_arm, "three parallel": three_parallel_arm}[name]()
    return loaded(chain), chain, {build: peer.Eaik(chain, build) for build in builds("eaik")}


@lru_cache
def general() -> tuple[Any, Chain, dict[str, peer.Ssik]]:
    """The six-joint arm without a closed form: ours, and ssik's builds (eaik knows no way for such an arm)."""
    chain = general_arm()
    return loaded(chain), chain, {build: peer.Ssik(chain, build) for build in builds("ssik")}


def is_general_prepared() -> bool:
    return peer.Ssik.is_prepared(general_arm())


def bench_fixtures() -> tuple[Any, ...]:
    """The twenty boxes as fixtures."""
    return tuple(aw.Box(size, X, f"box {i + 1}") for i, (X, size) in enumerate(zip(*bench_boxes(), strict=True)))


@lru_cache
def surrounded() -> tuple[Any, peer.Coal]:
    """The 7-joint arm with capsules among twenty boxes: our cell, and coal."""
    chain = track_arm()
    return aw.Cell(loaded(chain), fixtures=bench_fixtures()), peer.Coal(chain, bench_boxes(), builds("coal")[0])


def batch(chain: Chain, count: int, seed: int = 1) -> Array:
    """Random postures within the limits."""
    lower, upper = chain.limits()
    return np.random.default_rng(seed).uniform(lower, upper, (count, chain.count))


def motions(q: Array) -> tuple[Array, Array]:
    rng = np.random.default_rng(2)
    return rng.normal(size=q.shape), rng.normal(size=q.shape)
