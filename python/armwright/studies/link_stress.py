"""What the tubes of the links bear at their ends, against yield."""

from __future__ import annotations

from typing import Any

import numpy as np
import xarray as xr

from armwright import _core
from armwright.errors import InputError
from armwright.results import make_dataset
from armwright.studies import pieces, run
from armwright.studies.carried import by_load, load_table
from armwright.studies.elastic import NO_STRESS
from armwright.studies.load_rows import KINDS, LoadRows, carried_by
from armwright.studies.subject import Subject

WANTED = 1.5  # against yield; common practice, no source
ENDS = ("near", "far", "between")
_BETWEEN = (0.25, 0.5, 0.75)  # shares of a tube's length that are looked at, and both sides of what takes hold of it
_BESIDE = 1e-9
NOT_COUNTED = "notches, details of welds, local buckling and fatigue"


def link_stress(
    subject: Subject,
    rows: LoadRows,
    *,
    how: pieces.How,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.link_stress."""
    elastic, model = subject.elastic, subject.model
    if not elastic.tubes:
        raise InputError.of("cell", "no link whose tube is described", "a tube as the structure of at least one link")
    carried = load_table([carried_by(model, load) for load in rows.loads], rows.load)
    given = np.column_stack([rows.q, rows.qd, rows.qdd, carried])
    found = pieces.run_pieces(
        _prepare, (subject,), given,
        study="link_stress", inputs_digest=inputs_digest, request={"rows": given}, how=how,
    )  # fmt: skip
    stress, station = found["stress"], found["station"]  # (rows, tubes, ends, 3), (rows, tubes, ends)
    kinds = rows.kind_of()
    worst = stress[..., 2].argmax(axis=0)
    tube, end = np.indices(worst.shape)
    allowed, missing = _allowed(elastic.tubes)
    variables: dict[str, Any] = {
        name: stress[worst, tube, end, k] for k, name in enumerate(("normal_stress", "shear_stress", "von_mises"))
    }
    with np.errstate(divide="ignore", invalid="ignore"):
        safety = np.where(variables["von_mises"] > 0, allowed / variables["von_mises"], np.inf)
    safety[np.isnan(allowed)] = np.nan
    wanted = np.array([WANTED if one.wanted is None else one.wanted for one in elastic.tubes])
    variables |= {
        "allowed_stress": allowed, "safety": safety, "wanted_safety": wanted,
        "station": station[worst, tube, end],
        "von_mises_of_kind": _by_kind(stress[..., 2], kinds),
        "case": rows.names_of(worst), "case_kind": kinds[worst], "time": rows.time[worst],
        "q": rows.q[worst], "load_mass": carried[worst, 0],
        "wall_slenderness": np.array([_slenderness(one) for one in elastic.tubes]),
    }  # fmt: skip
    coords = {
        "tube": np.array([f"{one.link}: {one.name}" for one in elastic.tubes]), "end": np.array(ENDS),
        "kind": np.array(KINDS), "joint": np.array(model.joint_names), "joint_unit": run.joint_units(model),
    }  # fmt: skip
    also = (NO_STRESS, "no structure", "alone weighs")
    lines = [line for line in elastic.not_counted if any(words in line for words in also)]
    told = [*rows.missing, *lines, *missing, NOT_COUNTED]
    return make_dataset(
        "link_stress", variables, coords, {"not_counted": "\n".join(dict.fromkeys(told))} | labels, inputs_digest,
        arm_name,
    )  # fmt: skip


def _allowed(tubes: Any) -> tuple[run.Floats, list[str]]:
    """Yield that counts at the ends and between, Pa; NaN where it is not known, with words. Between the ends of a
    welded tube it is that of the ends: a bracket may be welded on anywhere."""
    values, missing = [], []
    for one in tubes:
        name = f"{one.link}: {one.name}"
        if one.yield_strength is None:
            missing.append(f"{name}: no yield strength of its material, so no safety")
        elif one.weld_share is None:
            missing.append(f"{name}: welded, and no share of the yield strength that is left told, so no safety")
        known = one.yield_strength is not None and one.weld_share is not None
        values.append([one.yield_strength * one.weld_share if known else np.nan] * len(ENDS))
        if _slenderness(one) > 1:
            missing.append(f"{name}: its wall may buckle before it yields (EN 1993-1-1 table 5.2, class 3, memory): "
                           "not checked")  # fmt: skip
    return np.array(values), missing


def _slenderness(one: Any) -> float:
    if one.yield_strength is None:
        return float("nan")
    return float(_core.elements.wall_slenderness(one.section, one.yield_strength, one.elastic_modulus))


def _by_kind(von_mises: run.Floats, kinds: Any) -> run.Floats:
    """The greatest in the rows of each kind, (tubes, ends, kinds); NaN where there are none."""
    out = np.full((*von_mises.shape[1:], len(KINDS)), np.nan)
    for k, kind in enumerate(KINDS):
        if (kinds == kind).any():
            out[..., k] = von_mises[kinds == kind].max(axis=0)
    return out


def _cuts(one: Any) -> list[float]:
    """Where a tube is cut: at its near end, its far one, and between, as shares of its length."""
    beside = [share + side for share in one.grips for side in (-_BESIDE, _BESIDE)]
    return [0.0, 1.0, *_BETWEEN, *(min(max(share, _BESIDE), 1 - _BESIDE) for share in beside)]


def _prepare(subject: Subject) -> pieces.Compute:
    model, elastic, n = subject.model, subject.elastic, subject.model.joint_count
    cuts = [_cuts(one) for one in elastic.tubes]
    spans = [one.span for one, stations in zip(elastic.tubes, cuts, strict=True) for _ in stations]
    stations = [share for each in cuts for share in each]

    def compute(rows: run.Floats, threads: int, report: run.Report | None) -> run.Arrays:
        q, speed, change = (np.ascontiguousarray(rows[:, k * n : (k + 1) * n]) for k in range(3))

        def wrenches(load: _core.model.Inertia, at: run.Ints) -> run.Floats:
            return _core.dynamics.section_wrenches(
                model, elastic.shaken, load, spans, stations, q[at], speed[at], change[at]
            )

        cut = by_load(rows[:, 3 * n :], wrenches)
        stress = np.empty((len(rows), len(cuts), len(ENDS), 3))
        where = np.empty(stress.shape[:3])
        first = 0
        for k, (one, shares) in enumerate(zip(elastic.tubes, cuts, strict=True)):
            flat = np.ascontiguousarray(cut[:, first : first + len(shares)].reshape(-1, 6))
            first += len(shares)
            told = _core.elements.section_stresses(one.section, one.poisson, flat).reshape(len(rows), len(shares), 3)
            between = 2 + told[:, 2:, 2].argmax(axis=1)
            stress[:, k, :2] = told[:, :2]
            stress[:, k, 2] = told[np.arange(len(rows)), between]
            where[:, k, :2] = shares[:2]
            where[:, k, 2] = np.array(shares)[between]
        return {"stress": stress, "station": where}

    return compute
