"""The plan's colours are the data set's, zones and places are where they are, and the set holds every choice."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np
import pytest

import armwright as aw
from armwright import pictures
from armwright.errors import InputError
from cases.described import positioner, track_cell

POINTS = [
    aw.Target.pointing(p, "down", f"point {i}") for i, p in enumerate([(0.6, 0.2, 0.1), (0.4, 0.7, 0.3), (1.3, 0.2, 0)])
]
ZONES = {"walkway": ((-0.5, -0.5), (-0.3, 0.5)), "door": [(0.2, -0.5), (0.5, -0.5), (0.5, -0.2)]}


@lru_cache
def dataset(aims=("limit_margin",)):
    foot = aw.Link("foot", shapes=(aw.Box((0.1, 0.1, 0.3), (0, 0, -0.15), "foot"),))
    arm = replace(positioner(axis_3=(-2.8, 2.8)), base_link=foot)
    cell = aw.Cell(arm, targets=POINTS, mount=(1.0, -0.4, 0), fixtures=aw.Box((0.2, 0.2, 0.3), (0.1, 0.3, 0), "bin"))
    return cell.placement(x=(-0.5, 0.5), y=(-0.5, 0.5), yaw="any", aims=aims, samples=150, forbidden=ZONES)


def named(ax, gid):
    return [artist for artist in ax.get_children() if artist.get_gid() == gid]


@pytest.mark.parametrize(("units", "factor"), [("si", 1), ("us", 1 / 0.0254)])
def test_the_plan_is_the_datasets(units, factor):
    found = dataset()
    ax = pictures.placement_plan(found, units=units)
    (mesh,) = named(ax, "plan")
    count = found.plan_count.values
    assert np.array_equal(mesh.get_array().filled(-1).reshape(count.shape), np.where(count < 0, -1, count))
    (best,) = named(ax, "best")
    assert np.ravel(best.get_data()) == pytest.approx(
        [float(found.place_x[0]) * factor, float(found.place_y[0]) * factor]
    )
    (now,) = named(ax, "now")
    assert np.ravel(now.get_data()) == pytest.approx([1.0 * factor, -0.4 * factor])
    assert len(named(ax, "zone")) == 2
    corners = named(ax, "zone")[1].get_path().vertices
    assert {tuple(np.round(c / factor, 9)) for c in corners} == {(0.2, -0.5), (0.5, -0.5), (0.5, -0.2)}
    (points,) = named(ax, "work points")
    assert np.transpose(points.get_data()) == pytest.approx(found.position.values[:, :2] * factor)
    assert ax.get_xlabel() == f"x ({'m' if units == 'si' else 'in'})"
    assert len(named(ax, "cannot stand")) == 1 and (count < 0).any()


def test_the_worst_is_shown_where_most_are_served():
    found = dataset()
    ax = pictures.placement_plan(found, show="worst")
    (mesh,) = named(ax, "plan")
    count, worst = found.plan_count.values, found.plan_worst.values
    shown = mesh.get_array().filled(np.nan).reshape(count.shape)
    assert np.allclose(shown, np.where(count == count.max(), worst, np.nan), equal_nan=True)
    assert f"where {count.max()} points are served" in ax.get_title("left")


def test_along_a_track():
    cell = track_cell(targets=POINTS)
    found = cell.placement(track=(0, 1), samples=100)
    ax = pictures.placement_along(found)
    (places,) = named(ax, "places")
    drawn = {tuple(p) for p in np.round(places.get_offsets(), 12)}
    known = np.isfinite(found.candidate_worst.values[:, 0]) & (found.candidate_count.values > 0)
    told = np.stack([found.candidate_track.values, found.candidate_worst.values[:, 0]], axis=1)[known]
    assert drawn == {tuple(p) for p in np.round(told, 12)}
    assert ax.get_xlabel() == "track position (m)"
    with pytest.raises(InputError, match="plan"):
        pictures.placement_plan(found)


def test_the_set_holds_every_choice():
    found = dataset(("limit_margin", "payload", "clearance"))
    ax = pictures.placement_set(found, x=1, y=0, units="us")
    (chosen,) = named(ax, "set")
    told = found.worst.values[:, [1, 0]] * [1 / 0.45359237, 1]
    drawn = chosen.get_offsets() if hasattr(chosen, "get_offsets") else np.transpose(chosen.get_data())
    assert np.asarray(drawn) == pytest.approx(told)
    (best,) = named(ax, "best")
    assert np.ravel(best.get_data()) == pytest.approx(told[int(found.attrs["best"])])
    assert "lb" in ax.get_xlabel()


def test_refused(ax):
    with pytest.raises(InputError, match="show"):
        pictures.placement_plan(dataset(), show="all")
    with pytest.raises(InputError, match="several aims"):
        pictures.placement_set(dataset())
    with pytest.raises(InputError, match="number"):
        pictures.placement_along(dataset(), number="w")
    with pytest.raises(InputError, match="place of an aim"):
        pictures.placement_set(dataset(("limit_margin", "payload", "clearance")), x=3)
    with pytest.raises(InputError, match="placement"):
        pictures.placement_plan(aw.Cell(positioner(), targets=POINTS).check_targets())
    assert pictures.placement_plan(dataset(), ax=ax) is ax
