"""Cell.placement and Cell.placed: what is found is what the cell placed there says, and wrong input is refused."""

from __future__ import annotations

import pickle
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from functools import lru_cache
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import xarray as xr

import armwright as aw
from armwright.errors import InputError
from armwright.results import summary
from cases.described import at, positioner, track_cell

POINTS = (
    aw.Target.pointing((0.5, 0.6, 0.1), "down", "front", tilt=0.2),
    aw.Target.pointing((-0.2, 0.7, 0.3), (0.3, 1, 0), "side", load=aw.Load("3 kg", (0, 0, 0.05))),
    aw.Target.pointing((0.9, 0.1, 0.2), (1, 0, -0.2), "far"),
    aw.Target.pointing((0.9, 4.0, 0.2), "down", "beyond"),
)
ROOM: dict[str, Any] = {"x": (-0.6, 0.9), "y": (-0.5, 0.9), "samples": 400}


@lru_cache
def cell() -> aw.Cell:
    foot = aw.Link("foot", shapes=(aw.Box((0.2, 0.2, 0.3), (0, 0, -0.15), "foot"),))
    arm = replace(positioner(axis_1=(-2.5, 2.5), axis_2=(-0.3, 2.5)), base_link=foot)
    fixtures = (
        aw.Box((0.2, 0.4, 0.8), (0.5, 0.2, 0.1), "cupboard", clearance="10 mm"),
        aw.HalfSpace((0, 0, -0.3), "floor"),
    )
    return aw.Cell(arm, fixtures=fixtures, targets=POINTS, load=aw.Load("1 kg"), mount=(-0.9, 0, 0))


@lru_cache
def found(aims: Any = "limit_margin") -> xr.Dataset:
    return cell().placement(yaw="any", margin="2 mm", aims=aims, **ROOM)


ALL = ("limit_margin", "clearance", "payload")


@pytest.mark.parametrize("aims", [*ALL, ALL])
def test_what_is_told_is_what_the_cell_placed_there_says(aims: Any) -> None:
    result = found(aims)
    words = ("limit_margin", "clearance_spare", "payload_spare")
    merits = ("limit_margin", "clearance_spare", "payload")
    for choice in range(result.sizes["choice"]):
        there = cell().placed(result, choice)
        assert there.description.mount == pytest.approx(result.stand_pose.values[choice])
        first = ALL.index(aims) if isinstance(aims, str) else int(result.chosen_by[choice])
        check = there.check_targets(margin="2 mm", order=merits[first])
        assert check.served.values.tolist() == result.served.values[choice].tolist()
        assert check.q.values == pytest.approx(result.q.values[choice], nan_ok=True)
        served = check.served.values
        assert int(result.served_count[choice]) == served.sum() == 3
        for k, name in enumerate([aims] if isinstance(aims, str) else aims):
            own = result[words[ALL.index(name)]].values[choice]
            assert float(result.worst[choice, k]) == own[served].min()
            assert str(result.worst_at.values[choice, k]) == POINTS[int(np.argmin(np.where(served, own, np.inf)))].name
        assert result.payload_spare.values[choice][served] == pytest.approx(
            (check.payload - check.payload_wanted).values[served]
        )
        # Of a pair that keeps more than the margin the spare is less than the nearest distance.
        assert (result.clearance_spare.values[choice][served] <= check.clearance.values[served] - 0.002 + 1e-9).all()


def test_the_search_keeps_its_word_and_finds_more_than_it_stood_at() -> None:
    result = found()
    assert result.promised_count.values.tolist() == result.served_count.values.tolist()
    assert result.worst.values == pytest.approx(result.promised_worst.values, abs=2e-3)
    assert int(result.now_served.values.sum()) < 3
    assert result.attrs["places_tried"] == result.sizes["candidate"]
    assert "against 1 of 4 where it stands now" in summary(result) or "of 4 where it stands now" in summary(result)
    assert "beyond: out of reach by" in summary(result)


def test_no_place_tried_is_better_than_the_one_told() -> None:
    result = found()
    best = (int(result.served_count[0]), float(result.worst[0, 0]))
    tried = zip(result.candidate_count.values, result.candidate_worst.values[:, 0], strict=True)
    assert max((int(n), float(w)) for n, w in tried if not np.isnan(w)) <= (best[0], best[1] + 2e-3)


def test_several_aims_are_a_set_that_nothing_beats() -> None:
    result = found(ALL)
    worst = result.worst.values
    assert result.sizes["choice"] >= 3
    for row in worst:
        assert not any((other >= row).all() and (other > row + 1e-3).any() for other in worst)
    for k, aim in enumerate(ALL):  # at each end about what that aim alone finds
        alone = float(found(aim).worst[0, 0])
        assert worst[:, k].max() >= alone - 0.1 * abs(alone)
    assert "that no other beats in all of" in summary(result)


def test_a_place_too_small_for_the_lattice_is_found() -> None:
    """Two points 2.16 m apart, a reach of 1.1 m: from 0.02 m about the line half-way between, 0.2 m along it."""
    ends = [aw.Target.pointing((x, 0.3, 0), "down", f"{x}") for x in (-1.01, 1.15)]
    result = aw.Cell(positioner(), targets=ends).placement(x=(-1.4, 1.5), y=(-1.3, 1.6), samples=60)
    sampled = result.plan_count.values
    assert sampled.max() == 1
    assert int(result.served_count[0]) == 2
    assert float(result.place_x[0]) == pytest.approx(0.07, abs=0.021)


def test_zones_and_fixtures_are_kept_clear_of() -> None:
    best = found()
    x, y = float(best.place_x[0]), float(best.place_y[0])
    zone = ((x - 0.2, y - 0.2), (x + 0.2, y + 0.2))
    other = cell().placement(yaw="any", margin="2 mm", forbidden={"hatch": zone}, **ROOM)
    around = np.stack([other.candidate_x.values - x, other.candidate_y.values - y], axis=1)
    aside = np.abs(around)  # the foot is 0.2 m wide; at the zone's corners it may stand aslant, nearer by
    near = (aside.max(axis=1) < 0.299) & (aside.min(axis=1) < 0.2)
    assert near.any() and (other.candidate_count.values[near] == -1).all()
    assert max(abs(float(other.place_x[0]) - x), abs(float(other.place_y[0]) - y)) > 0.2
    assert float(other.worst[0, 0]) <= float(best.worst[0, 0]) + 2e-3
    inside = (np.abs(best.candidate_x - 0.5) < 0.19) & (np.abs(best.candidate_y - 0.2) < 0.2)  # the cupboard
    assert inside.any() and (best.candidate_count.values[inside] == -1).all()


def test_a_base_without_solids_keeps_its_origin_out_of_zones() -> None:
    bare = aw.Cell(positioner(), targets=POINTS[:1])
    result = bare.placement(x=(-1, 1), y=(-1, 1), samples=200, forbidden=[[(-1, -1), (0.4, -1), (-1, 0.4)]])
    x, y = result.candidate_x.values, result.candidate_y.values
    forbidden = (x + y < -0.6 - 1e-6) & (x > -1 + 1e-6) & (y > -1 + 1e-6)  # on the border it may stand
    assert forbidden.any() and (result.candidate_count.values[forbidden] == -1).all()
    assert float(result.place_x[0] + result.place_y[0]) >= -0.6 - 1e-6


def test_what_goes_along_is_not_in_the_way() -> None:
    told = replace(cell().description, fixtures=(*cell().fixtures, aw.Box((0.3, 0.3, 0.2), (-0.9, 0, -0.2), "plinth")))
    standing = aw.Cell.from_description(told)
    result = standing.placement(going_along="plinth", **ROOM)
    there = standing.placed(result)
    plinth = next(shape for shape in there.fixtures if shape.name == "plinth")
    assert plinth.pose[:2, 3] == pytest.approx(there.description.mount[:2, 3])
    assert int(result.served_count[0]) == there.check_targets(order="limit_margin").served.values.sum() == 3


def test_a_track_and_a_parked_arm() -> None:
    standing = track_cell(targets=POINTS[:3])
    moved = standing.placement(y=(-0.8, 0.8), yaw=(-0.5, 0.5), samples=60)
    assert moved.attrs["stand"] == "track"
    there = standing.placed(moved)
    assert there.track is not None and there.track.pose == pytest.approx(moved.stand_pose.values[0])
    assert there.check_targets(order="limit_margin").served.values.tolist() == moved.served.values[0].tolist()
    parked = standing.placement(track=("0 m", "1 m"), samples=300)
    assert parked.attrs["stand"] == "parked arm" and parked.sizes["joint"] == 6
    assert int(parked.served_count[0]) <= int(moved.served_count[0])
    intervals = standing.track_intervals()
    at_it = float(parked.place_track[0])
    inside = ((intervals.lower.values <= at_it) & (at_it <= intervals.upper.values)).any(axis=1)
    assert inside.tolist() == parked.served.values[0].tolist()
    assert "Best position on the track at" in summary(parked)


def test_answers_as_aims() -> None:
    result = cell().placement(
        x=(-0.6, 0.9),
        y=(-0.5, 0.9),
        samples=150,
        aims=("limit_margin", aw.ask.payload("front"), aw.ask.reachable_volume(0.5)),
    )
    for choice in range(result.sizes["choice"]):
        there = cell().placed(result, choice)
        assert aw.ask.payload("front").ask(there).value == float(result.worst[choice, 1])
    assert np.isnan(result.promised_worst.values[:, 1]).all()
    assert result.aim_unit.values.tolist() == ["1", "kg", "m3"]


def test_stroke_and_cost_as_aims() -> None:
    standing = track_cell(targets=POINTS[:2])
    needed = aw.ask.stroke()
    result = standing.placement(y=(-0.5, 0.3), samples=40, aims=("limit_margin", needed))
    there = standing.placed(result, 0)
    told = there.track_intervals()
    assert float(told.stroke_length[int(told.served.sum()) - 1]) == float(result.worst[0, 1])
    prices = aw.TrackPrices(per_metre=100, fixed=20, currency="EUR")
    cost = aw.ask.track_cost(prices).ask(there)
    assert cost.value == pytest.approx(prices.of(float(result.worst[0, 1])))
    assert aw.ask.track_cost(prices).unit == "EUR" and not needed.ask(cell()).known


def test_threads_and_executors_change_nothing_and_seeds_do() -> None:
    small: dict[str, Any] = {"x": (-0.6, 0.9), "y": (-0.5, 0.9), "yaw": "any", "samples": 60}
    both = small | {"aims": ("limit_margin", "payload")}
    assert cell().placement(threads=1, **both).identical(cell().placement(threads=3, **both))
    one = cell().placement(threads=1, **small)
    with ProcessPoolExecutor(2, get_context("spawn")) as executor:
        assert one.identical(cell().placement(executor=executor, **small))
    other = cell().placement(seed=1, **small)
    assert not one.candidate_yaw.equals(other.candidate_yaw)
    assert pickle.loads(pickle.dumps(one)).identical(one)


def test_a_run_that_was_ended_goes_on_from_its_store(tmp_path: Path) -> None:
    small: dict[str, Any] = {"x": (-0.6, 0.9), "y": (-0.5, 0.9), "yaw": "any", "samples": 200, "threads": 1}
    whole = cell().placement(**small)
    ended = 0
    for most in (100, 700, 1500):  # places: within the sample, and within steps

        def until(done: int, total: int, most: int = most) -> bool:
            return done < most

        with pytest.raises(aw.Cancelled):
            cell().placement(store=tmp_path / "kept", progress=until, **small)
        kept = len(list((tmp_path / "kept").glob("*.nc")))
        assert kept >= ended
        ended = kept
    assert ended > 1
    told: list[int] = []
    again = cell().placement(store=tmp_path / "kept", progress=lambda done, total: told.append(done), **small)
    assert again.identical(whole)
    assert told == sorted(told)
    with pytest.raises(InputError, match="store"):
        cell().placement(store=tmp_path / "kept", **(small | {"seed": 3}))


def test_a_stop_is_heard() -> None:
    with pytest.raises(aw.Cancelled):
        cell().placement(x=(-1, 1), y=(-1, 1), yaw="any", samples=20_000, progress=lambda done, total: False)


def test_a_cell_that_serves_nothing_anywhere_is_told_so() -> None:
    result = aw.Cell(positioner(), targets=POINTS[3:]).placement(x=(-1, 1), y=(-1, 0), samples=50)
    assert int(result.served_count[0]) == 0 and np.isnan(result.worst.values).all()
    assert "0 of 1 points" in summary(result)


def test_nowhere_to_stand_is_told_so() -> None:
    with pytest.raises(InputError, match="nowhere to stand"):
        cell().placement(x=(-1, 1), y=(-1, 1), samples=50, forbidden=[((-3, -3), (3, 3))])


@pytest.mark.parametrize(
    ("told", "key"),
    [
        ({"aims": "reach"}, "aims[0]"),
        ({"aims": []}, "aims"),
        ({"aims": ["payload", "payload"]}, "aims"),
        ({"aims": 3}, "aims"),
        ({"targets": []}, "targets"),
        ({"samples": 0}, "samples"),
        ({"seed": -1}, "seed"),
        ({"seed": 0.5}, "seed"),
        ({"spacing": "0 m"}, "spacing"),
        ({"spacing": "0.01 mm"}, "spacing"),
        ({"margin": "-1 mm"}, "margin"),
        ({"limit": "most"}, "limit"),
        ({"centre": (0, 0)}, "centre"),
        ({"going_along": "cupbord"}, "going_along"),
        ({"going_along": "floor"}, "going_along"),
        ({"executor": "all of them"}, "executor"),
        ({"forbidden": {"a": [(0, 0)]}}, "forbidden[a]"),
    ],
)  # fmt: skip
def test_refused(told: dict[str, Any], key: str) -> None:
    with pytest.raises(InputError) as refused:
        cell().placement(**({"x": (-1, 1), "y": (-1, 1), "samples": 50} | told))
    assert refused.value.problems[0].key == key


def test_payload_without_torque_limits_is_refused() -> None:
    free = replace(
        positioner(), joints=tuple(aw.Joint(j.name, placement=j.placement, axis=j.axis) for j in positioner().joints)
    )
    with pytest.raises(InputError, match="torque limit"):
        aw.Cell(free, targets=POINTS).placement(x=(-1, 1), aims="payload")


def test_placed_takes_a_placement_of_this_cell_alone() -> None:
    result = found()
    with pytest.raises(InputError, match="choice"):
        cell().placed(result, 99)
    with pytest.raises(InputError, match="placement"):
        cell().placed(cell().check_targets())
    with pytest.raises(InputError, match="this cell"):
        track_cell().placed(result)
    elsewhere = aw.Cell.from_description(replace(cell().description, mount=at((0.1, 0, 0))))
    with pytest.raises(InputError, match="this cell"):
        elsewhere.placed(result)


@pytest.mark.parametrize("aims", [["clearance", "clearance"], [aw.ask.served(), "clearance", aw.ask.served()]])
def test_an_aim_told_twice(aims: Any) -> None:
    name = "points served" if len(aims) == 3 else "clearance spare"
    with pytest.raises(aw.InputError, match=f'^aims: got two named "{name}", expected a different name for each$'):
        cell().placement(yaw="any", aims=aims)
