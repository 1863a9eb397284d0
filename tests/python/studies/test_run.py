from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.studies import run
from cases.described import positioner, track_cell

CELL = track_cell(targets=[aw.Target.pointing((0.5, 0.6, 0.4), "down", f"point {i}", tilt=0.3) for i in range(60)])
STUDIES: dict[str, Any] = {
    "reach_map": lambda **k: CELL.reach_map("80 mm", directions=12, spins=2, **k),
    "payload_map": lambda **k: CELL.payload_map("150 mm", directions=12, spins=2, **k),
    "check_targets": CELL.check_targets,
    "outlines": lambda **k: CELL.outlines(spacing="30 mm", **k),
}


@pytest.mark.parametrize("study", STUDIES)
def test_progress_grows_and_can_stop_it(study: str) -> None:
    heard: list[tuple[int, int]] = []

    def stop_at_the_third(done: int, total: int) -> bool:
        heard.append((done, total))
        return len(heard) < 3

    with pytest.raises(aw.Cancelled, match="stopped by its progress callable"):
        STUDIES[study](progress=stop_at_the_third, threads=1)
    assert len(heard) >= 3
    assert all(0 <= done <= total for done, total in heard)
    assert [done for done, _ in heard] == sorted(done for done, _ in heard)
    assert heard[-1][0] < heard[-1][1]


def test_progress_hears_of_the_end() -> None:
    heard: list[tuple[int, int]] = []
    aw.Cell(positioner()).reach_map("300 mm", directions=2, spins=1, progress=lambda *numbers: heard.append(numbers))
    assert heard and heard[-1][0] == heard[-1][1] > 0  # None is no wish to stop


def test_what_progress_raises_comes_through() -> None:
    def fail(done: int, total: int) -> bool:
        raise KeyError("of its own")

    with pytest.raises(KeyError, match="of its own"):
        STUDIES["reach_map"](progress=fail)


@pytest.mark.parametrize("study", STUDIES)
def test_what_is_no_progress_and_no_threads(study: str) -> None:
    with pytest.raises(aw.InputError, match=r"^progress: got 5, expected True, False, None or a callable"):
        STUDIES[study](progress=5)
    for threads in (0, -1, 2.0, "two", True, 5000):
        with pytest.raises(aw.InputError, match=r"^threads: got .*, expected a whole number, 1 to 1024"):
            STUDIES[study](threads=threads)


LONG = """
import signal, sys
signal.signal(signal.SIGINT, signal.default_int_handler)  # what a shell starts in the background ignores Ctrl-C
sys.path.insert(0, {tests!r})
import armwright as aw
from cases.described import positioner, track_cell
cell = track_cell()
cell.reach_map("500 mm", directions=1, spins=1)  # brings what is imported late: Ctrl-C meanwhile is Python's affair
print("ready", flush=True)
try:
    {call}
    print("finished", flush=True)
except KeyboardInterrupt:
    print("interrupted", flush=True)
"""


@pytest.mark.parametrize(
    "call",
    ["cell.reach_map('40 mm', directions=9000, spins=8)", "cell.payload_map('40 mm', directions=9000, spins=8)",
     "cell.check_targets([aw.Target((0.5, 0.3, 0.2 + 0.001 * i), f't{i}', True, 0.5) for i in range(4000)])",
     "cell.outlines(spacing='2 mm', directions=4000)"],
)  # fmt: skip
def test_ctrl_c_ends_a_long_study_soon(call: str) -> None:
    script = LONG.format(tests=str(Path(__file__).parents[2]), call=call)
    environment = os.environ | {"PYTHONPATH": os.pathsep.join(path for path in sys.path if path)}
    with subprocess.Popen(
        [sys.executable, "-c", script], stdout=subprocess.PIPE, text=True, env=environment
    ) as process:
        assert process.stdout is not None
        try:
            assert process.stdout.readline() == "ready\n"
            time.sleep(0.6)
            begun = time.monotonic()
            process.send_signal(signal.SIGINT)
            assert process.communicate(timeout=60)[0] == "interrupted\n"
            assert process.returncode == 0
            assert time.monotonic() - begun < 5.0  # the program's end included
        finally:
            process.kill()


def test_axes_cover_the_box_on_multiples_of_the_spacing() -> None:
    for lower, upper, spacing in ((-1.0, 1.0, 0.3), (0.05, 0.06, 0.1), (-2.0, -1.0, 0.25)):
        (axis, *_) = run.axes_of((lower,) * 3, (upper,) * 3, spacing)
        assert axis[0] <= lower and axis[-1] >= upper
        assert axis[0] > lower - spacing and axis[-1] < upper + spacing
        np.testing.assert_allclose(axis / spacing, np.round(axis / spacing), atol=1e-9)
        np.testing.assert_allclose(np.diff(axis), spacing)


def test_attitudes() -> None:
    assert run.attitudes_for("any", 10, 3).shape == (30, 3, 3)
    (down,) = run.attitudes_for("down", 10, 1)
    assert down[:, 2].tolist() == [0, 0, -1]
    level = run.attitudes_for("level", 8, 2)
    assert len(level) == 16
    assert np.abs(level[:, 2, 2]).max() == 0
    np.testing.assert_allclose(np.sum(level[:, :, 2], axis=0), 0, atol=1e-12)
    with pytest.raises(aw.InputError, match=r"^attitude: got 'up', expected \"any\", \"down\" or \"level\""):
        run.attitudes_for("up", 1, 1)  # type: ignore[arg-type]


@pytest.mark.parametrize("value", [0, -1, 1.0, "1", None, True, np.nan, 11])
def test_what_is_no_whole_number(value: Any) -> None:
    with pytest.raises(aw.InputError, match=r"^spins: got .*, expected a whole number, 1 to 10$"):
        run.whole("spins", value, 1, 10)
    assert run.whole("spins", np.int64(3), 1, 10) == 3


@pytest.mark.parametrize("value", [0, -0.1, 1.1, np.nan, "much", None])
def test_what_is_no_share(value: Any) -> None:
    with pytest.raises(aw.InputError, match=r"^share: got .*, expected a share above 0, up to 1$"):
        run.share_of("share", value)


def test_a_track_cut_too_fine_is_refused_before_it_eats_all_memory() -> None:
    for study in (CELL.reach_map, CELL.payload_map):
        with pytest.raises(aw.InputError, match=r"^track_step: got 1e-09 m, which makes 1,000,000,000 track positions"):
            study("1 m", track_step="1e-9 m")
    with pytest.raises(aw.InputError, match=r"^track_step"):
        CELL.check_targets(track_step=1e-9)
    with pytest.raises(aw.InputError, match=r"^spacing: got 0.0001 m, which makes .* positions"):
        CELL.reach_map("0.1 mm")


@pytest.mark.parametrize("spacing", [1e-320, 1e-300, 1e-9, 10.0, 1e9])
def test_a_spacing_that_is_absurd_is_refused(spacing: float) -> None:
    arm = aw.Cell(positioner())
    for study in (arm.reach_map, arm.payload_map, lambda s: arm.outlines(spacing=s)):
        with pytest.raises(aw.InputError, match="spacing: got") as told:
            study(spacing)
        assert len(str(told.value)) < 200


def test_a_step_next_to_nothing_along_a_track_is_refused() -> None:
    cell = aw.Cell(positioner(), track=aw.Track("x", 2.0))
    with pytest.raises(aw.InputError, match="track_step: got"):
        cell.check_targets(aw.Target((0.1, 0.1, 0.1)), track_step=1e-320)


def test_attitudes_without_number_are_refused() -> None:
    with pytest.raises(aw.InputError, match="at most 1,000,000 attitudes"):
        aw.Cell(positioner()).reach_map(0.5, directions=100_000, spins=10_000)


def snake(joints: int, half_range: float = 1.0) -> aw.ArmDescription:
    """Joints about x, y and z in turn, 0.2 m apart."""
    turning = [
        aw.Joint(f"{i}", placement=(0, 0, 0.2), axis="xyz"[i % 3], range=(-half_range, half_range))
        for i in range(joints)
    ]
    return aw.ArmDescription(tuple(turning), tuple(aw.Link(f"link {i}") for i in range(joints)))


@pytest.mark.parametrize("arm", [snake(12), snake(7, 1e9)])
def test_arms_whose_redundant_joints_take_too_many_values_are_refused(arm: aw.ArmDescription) -> None:
    cell = aw.Cell(arm)
    for study in (
        lambda: cell.reach_map(1.0, directions=1, spins=1),
        lambda: cell.check_targets(aw.Target((0, 0, 1.0))),
        lambda: cell.outlines(spacing=0.5),
    ):
        with pytest.raises(aw.InputError, match=r"joints? beyond what a pose needs"):
            study()
