"""How far the tool may stand from where it should: play, encoders and tolerances, at worst and as usual."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np
import xarray as xr

from armwright import _core
from armwright.results import make_dataset
from armwright.studies import pieces, run
from armwright.studies.carried import by_load
from armwright.studies.subject import Subject

most_exact = 128  # directions of causes whose signs are all gone through
assumed = (
    "Backlash is the whole width of play at a stage's output, of which half counts either way. Where the weight, a "
    "counterbalance or a process keeps one flank loaded, the play stands to that side and comes back the same each "
    "time, so that little of it shows (common practice, no source): weight_side tells where. It shows again where the "
    "force turns round. Encoders sit on the motors and see none of it. Causes are taken as independent; the root sum "
    "of squares is as sure as the tolerances are. Sag, warmth, the joints' zeros, following errors, tilting play of "
    "bearings and the links' own shapes are not counted."
)
_nowhere = np.zeros(3)


class Cause(NamedTuple):
    """A cause, with the most that it is off either way, ``amount`` in ``unit``. ``kind``: backlash, encoder or
    placement. What it does at most: ``joints`` (rad, m), or at a place of the chain, after joint frame ``frame`` (-1:
    the world) and told in it, a ``shift`` (m) and a ``turn`` (rad) about ``point`` (m)."""

    name: str
    kind: str
    amount: float
    unit: str
    frame: int = -1
    point: run.Floats = _nowhere
    shift: run.Floats = _nowhere
    turn: run.Floats = _nowhere
    joints: run.Floats = _nowhere[:0]

    @property
    def move(self) -> _core.kinematics.SmallMove:
        """The same as the core takes it."""
        move = _core.kinematics.SmallMove()
        move.frame, move.joints = self.frame, self.joints.tolist()
        move.point, move.shift, move.turn = self.point, self.shift, self.turn
        return move


class Axes(NamedTuple):
    """Joint positions = ``coupling`` · drive positions, (n, n); ``friction``: Coulomb's at each joint, N m (N), 0 where
    none is told."""

    coupling: run.Floats
    friction: run.Floats


def tool_error(
    subject: Subject,
    q: run.Floats,
    batch: tuple[int, ...],
    *,
    causes: Sequence[Cause],
    axes: Axes,
    carried: run.Floats,
    targets: Sequence[str] | None,
    missing: Sequence[str],
    how: pieces.How,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.tool_error. ``q``: (rows, joints); ``batch``: the shape that its rows have; ``carried``: the load of
    each row (rows, 13); ``targets``: the work points whose postures they are."""
    model = subject.model
    found = pieces.run_pieces(
        _prepare, (subject, tuple(causes), axes), np.column_stack([q, carried]),
        study="tool_error", inputs_digest=inputs_digest, request={"q": q, "carried": carried}, how=how,
    )  # fmt: skip
    names = np.array(model.joint_names)
    coords: dict[str, Any] = {
        "joint": names, "joint_unit": run.joint_units(model), "xyz": np.array(["x", "y", "z"]),
        "cause": np.array([cause.name for cause in causes], dtype=np.str_),
        "cause_kind": np.array([cause.kind for cause in causes], dtype=np.str_),
        "cause_unit": np.array([cause.unit for cause in causes], dtype=np.str_),
    }  # fmt: skip
    variables: dict[str, Any] = {name: values.reshape((*batch, *values.shape[1:])) for name, values in found.items()}
    variables |= {
        "q": q.reshape((*batch, len(names))),
        "cause_amount": np.array([cause.amount for cause in causes], dtype=np.float64),
    }
    if targets is not None:
        variables["target"] = np.array(targets, dtype=np.str_)
    attrs = {"missing": "\n".join(missing), "assumed": assumed}
    return make_dataset("tool_error", variables, coords, attrs | labels, inputs_digest, arm_name)


def _prepare(subject: Subject, causes: tuple[Cause, ...], axes: Axes) -> pieces.Compute:
    model, moves, n = subject.model, [cause.move for cause in causes], subject.model.joint_count
    least = axes.friction + 1e-9  # a weight of less does not draw the play to one side

    def compute(rows: run.Floats, threads: int, report: run.Report | None) -> run.Arrays:
        q = np.ascontiguousarray(rows[:, :n])
        effects = _core.kinematics.tool_errors(model, moves, q)
        held = by_load(rows[:, n:], lambda load, at: _core.dynamics.gravity_torques(model, load, q[at])).reshape(-1, n)
        drawn = sum(held[:, i, None] * axes.coupling[i] for i in range(held.shape[1]))  # its transpose, row by row
        found: run.Arrays = {"weight_side": np.where(np.abs(drawn) > least, np.sign(drawn), 0).astype(np.int64)}
        for name, part in (("position", effects[..., :3]), ("attitude", effects[..., 3:])):
            found |= {f"{name}_{key}": values for key, values in summed(np.ascontiguousarray(part)).items()}
        return found

    return compute


def summed(effects: run.Floats) -> run.Arrays:
    """What causes do together, (rows, causes, 3): at worst, over all their signs, and as the root of the sum of
    squares; with the share that each has in either. NaN without any cause."""
    rows, count = effects.shape[:2]
    worst, vector, exact = _core.kinematics.longest_signed_sums(effects, most_exact)
    squares = (effects**2).sum(axis=2)
    parts = effects * vector[:, None, :]
    along = np.abs(parts[..., 0] + parts[..., 1] + parts[..., 2])
    with np.errstate(invalid="ignore", divide="ignore"):
        share_worst, share_rss = (part / part.sum(axis=1, keepdims=True) for part in (along, squares))
    unknown = np.full(rows, np.nan) if count == 0 else np.zeros(rows)
    return {
        "effect": effects,
        "worst": worst + unknown,
        "worst_vector": vector + unknown[:, None],
        "worst_exact": exact,
        "worst_along": np.abs(effects).sum(axis=1) + unknown[:, None],
        "rss": np.sqrt(squares.sum(axis=1)) + unknown,
        "rss_along": np.sqrt((effects**2).sum(axis=1)) + unknown[:, None],
        "share_worst": share_worst,
        "share_rss": share_rss,
    }
