"""Studies on a Dask cluster of several worker processes: the same bits; a worker that is killed costs its pieces."""

from __future__ import annotations

import os
import random
import signal
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from distributed import Client, LocalCluster

import armwright as aw
from armwright.studies import cutting, pieces
from cases.described import track_cell
from cases.in_pieces import assert_same_array, assert_same_bits, refusing, squares
from cases.stopping import braked_cell

TRACK = track_cell(targets=[aw.Target.pointing((0.5, 0.6, 0.4), "down", f"point {i}", tilt=0.3) for i in range(4)])


@pytest.fixture(scope="module")
def client() -> Iterator[Client]:
    with (
        LocalCluster(n_workers=3, threads_per_worker=1, processes=True, dashboard_address=":0") as cluster,
        Client(cluster, set_as_default=False) as client,  # else xarray asks it for a lock, here and in tests after
    ):
        yield client


@pytest.fixture(autouse=True)
def short_pieces(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cutting, "piece_seconds", 0.05)


def test_no_bit_of_a_study_changes(client: Client, tmp_path: Path) -> None:
    braked = braked_cell()
    asked: dict[str, Any] = {"executor": client.get_executor(pure=False), "store": None}
    studies: list[Any] = [
        lambda **how: TRACK.reach_map("250 mm", directions=4, spins=2, **how),
        lambda **how: TRACK.payload_map("400 mm", directions=4, spins=1, **how),
        lambda **how: braked.payload_at_speed("400 mm", directions=4, spins=1, tool_acceleration=2, **how),
        TRACK.check_targets,
        lambda **how: TRACK.outlines(spacing="120 mm", directions=10, **how),
        braked.stop_table,
    ]
    for study in studies:
        assert_same_bits(study(), study(**asked))
    plain = client.get_executor()
    assert_same_bits(studies[0](), studies[0](executor=plain, store=tmp_path / "store"))


def test_what_a_piece_raises_comes_through_as_itself(client: Client) -> None:
    with pytest.raises(aw.InputError, match=r"^joint: got row 77, expected another row$"):
        pieces.run_pieces(
            refusing, (77,), np.arange(300), study="squares", inputs_digest="0" * 64, request={},
            how=pieces.How(client.get_executor()),
        )  # fmt: skip


def test_a_client_is_not_its_executor(client: Client) -> None:
    with pytest.raises(aw.InputError, match=r"^executor: .*did you mean its get_executor\(\)"):
        TRACK.reach_map("400 mm", executor=client)  # type: ignore[arg-type]


def test_pieces_of_workers_that_are_killed_are_done_by_others(client: Client, tmp_path: Path) -> None:
    rows = np.arange(3000)
    draw = random.Random(7)
    goals = [400, 1600]

    def progress(done: int, total: int) -> None:
        if goals and done >= goals[0]:
            goals.pop(0)
            workers = client.run(os.getpid)
            os.kill(draw.choice(sorted(workers.values())), signal.SIGKILL)

    found = pieces.run_pieces(
        squares, (1e-3,), rows, study="squares", inputs_digest="0" * 64, request={},
        how=pieces.How(client.get_executor(), tmp_path / "store", None, progress),
    )  # fmt: skip
    assert not goals, "two were killed"
    for name, values in squares()(rows, 1, None).items():
        assert_same_array(found[name], values)
