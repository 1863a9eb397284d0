"""How far the tool may stand from where it should: play, encoders and tolerances, at worst and as usual."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import xarray as xr

from armwright import _core
from armwright.results import make_dataset
from armwright.studies import pieces, run
from armwright.studies.subject import Subject

most_exact = 128  # directions of causes whose signs are all gone through
assumed = (
    "Backlash is the whole width of play at a stage's output, of which half counts either way. Where the weight, a "
    "counterbalance or a process keeps one flank loaded, the play stands to that side and comes back the same each "
    "time, so that little of it shows (common practice, no source): weight_side tells where. It shows again where the "
    "force turns round. Encoders sit on the motors and see none of it. Causes are taken as independent; the root sum "
    "of squares is as sure as the tolerances are. Sag, warmth, the joints' zeros and following errors are not counted."
)


def tool_error(
    subject: Subject,
    causes: Any,
    q: run.Floats,
    batch: tuple[int, ...],
    *,
    targets: Sequence[str] | None,
    missing: Sequence[str],
    how: pieces.How,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.tool_error. ``causes``: what ``error_causes`` finds; ``q``: (rows, joints); ``batch``: the shape that
    its rows have; ``targets``: the work points whose postures they are."""
    model = subject.model
    moves = tuple(_plain(cause.move) for cause in causes.told)
    found = pieces.run_pieces(
        _prepare, (subject, moves), q, study="tool_error", inputs_digest=inputs_digest, request={"q": q}, how=how
    )
    names = np.array(model.joint_names)
    coords: dict[str, Any] = {
        "joint": names, "joint_unit": run.joint_units(model), "xyz": np.array(["x", "y", "z"]),
        "cause": np.array([cause.name for cause in causes.told], dtype=np.str_),
        "cause_kind": np.array([cause.kind for cause in causes.told], dtype=np.str_),
        "cause_unit": np.array([cause.unit for cause in causes.told], dtype=np.str_),
    }  # fmt: skip
    variables: dict[str, Any] = {name: values.reshape((*batch, *values.shape[1:])) for name, values in found.items()}
    variables |= {
        "q": q.reshape((*batch, len(names))),
        "cause_amount": np.array([cause.amount for cause in causes.told], dtype=np.float64),
    }
    if targets is not None:
        variables["target"] = np.array(targets, dtype=np.str_)
    attrs = {"missing": "\n".join([*causes.missing, *missing]), "assumed": assumed}
    return make_dataset("tool_error", variables, coords, attrs | labels, inputs_digest, arm_name)


def _plain(move: _core.kinematics.SmallMove) -> tuple[Any, ...]:
    """What a move is made of, able to travel."""
    return move.frame, list(move.joints), np.array(move.point), np.array(move.shift), np.array(move.turn)


def _made(told: tuple[Any, ...]) -> _core.kinematics.SmallMove:
    move = _core.kinematics.SmallMove()
    move.frame, move.joints, move.point, move.shift, move.turn = told
    return move


def _prepare(subject: Subject, told: tuple[tuple[Any, ...], ...]) -> pieces.Compute:
    model, moves = subject.model, [_made(each) for each in told]
    coulomb = _coulomb(subject)

    def compute(rows: run.Floats, threads: int, report: run.Report | None) -> run.Arrays:
        rows = np.ascontiguousarray(rows)
        effects = _core.kinematics.tool_errors(model, moves, rows)
        held = _core.dynamics.gravity_torques(model, model.load, rows)
        axes = held if subject.description.arm.coupling is None else _on_axes(subject, held)
        found: run.Arrays = {"weight_side": np.where(np.abs(axes) > coulomb, np.sign(axes), 0).astype(np.int64)}
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


def _coulomb(subject: Subject) -> run.Floats:
    """Friction at each joint, N m (N): a weight of less does not draw the play to one side. 0 where none is told."""
    described = subject.description
    drives = [joint.drive for joint in described.arm.joints]
    if described.track is not None:
        drives = [described.track.drive, *drives]
    told = [drive.friction if drive is not None else None for drive in drives]
    return np.array([0.0 if friction is None else max(friction.coulomb) for friction in told]) + 1e-9


def _on_axes(subject: Subject, torque: run.Floats) -> run.Floats:
    """Torques of the joints as the coupled drives feel them: the transpose of what positions go with."""
    first = 0 if subject.description.track is None else 1
    out = torque.copy()
    out[:, first:] = torque[:, first:] @ np.asarray(subject.description.arm.coupling)
    return out
