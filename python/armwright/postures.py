"""The postures of a cycle's stops, and ways of the tool that keep their branch."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NoReturn

import numpy as np
from numpy.typing import NDArray

from armwright import _core, attitudes
from armwright.describe import CellDescription, Load, Target
from armwright.describe.pose import turn_about
from armwright.errors import InputError
from armwright.studies.check_targets import distance_kept, obstruction, reason_of

if TYPE_CHECKING:
    from armwright.cell import Cell

Floats = NDArray[np.float64]
most_postures = 160  # at a stop; of more those furthest from the joint limits are kept
spins = 12  # tried where the spin about the tool's axis is free
track_step = 0.1  # m, between track positions tried
turn_step = math.radians(20)  # between values tried of another joint that a pose leaves free
_JUMP = 0.7  # rad or m between samples of a way: another branch


@dataclass(frozen=True)
class Goal:
    """Where a move goes: a posture, or a pose of the tool in the world whose spin may be free, and whose axis may lean
    up to ``tilt`` (rad) where it does not go otherwise. ``target``: the work point, if it is one's."""

    words: str
    posture: Any = None
    pose: Any = None
    free_spin: bool = False
    tilt: float = 0.0
    target: Target | None = None

    @property
    def spec(self) -> _core.model.TargetSpec:
        """The same as the core's work point, with nothing to be held and no tolerance of place."""
        spec = _core.model.TargetSpec()
        spec.pose, spec.free_spin, spec.tilt = self.pose, self.free_spin, self.tilt
        return spec


@dataclass(frozen=True)
class Step:
    """A move as the core has it. ``kind``: joints, line, arc or dwell; ``source``: its place among the cycle's moves;
    ``load``: carried, -1 for nothing."""

    kind: str
    source: int
    name: str
    goal: Goal | None
    load: int
    move: Any
    blend: float = 0.0


class Chooser:
    """Postures at goals, and ways between them."""

    def __init__(self, cell: Cell, model: _core.model.Model, inverse: _core.kinematics.ArmInverse, loads: list[Load]):
        self.cell, self.model, self.inverse = cell, model, inverse
        self.scenes = [cell._subject.solids_carrying(load) for load in (*loads, None)]  # the last: index -1, nothing
        self.loads = loads
        self.n = int(model.joint_count)
        self.turns = np.array([kind != _core.model.JointKind.prismatic for kind in model.joint_kinds])
        fastest = np.minimum(model.speed, _drive_speeds(cell.description))
        usual = np.where(self.turns, math.pi, 1.0)
        self.speed = np.where(np.isfinite(fastest), fastest, usual)
        self.free = self._free_values()
        self.known: dict[Any, Floats] = {}

    def _free_values(self) -> list[list[float]]:
        """Every combination of values of the joints that a pose leaves free."""
        values = []
        for joint in self.inverse.redundant:
            lower, upper = self.model.lower[joint], self.model.upper[joint]
            if not math.isfinite(upper - lower):
                lower, upper = -math.pi, math.pi
            step = turn_step if self.turns[joint] else track_step
            values.append(np.linspace(lower, upper, min(max(math.ceil((upper - lower) / step), 1), 60) + 1))
        grid = np.meshgrid(*values, indexing="ij") if values else []
        combined = np.stack([axis.ravel() for axis in grid], axis=1) if values else np.zeros((1, 0))
        return [list(row) for row in combined[:20_000]]

    def at(self, goal: Goal, loads: tuple[int, ...], key: str) -> Floats:
        """Postures at a goal, clear of everything with each of the loads, (k, n)."""
        if goal.posture is not None:
            return self.clear(goal.posture[None], loads, key, goal.words)
        mark = (goal.pose.tobytes(), goal.free_spin, goal.tilt, loads)
        if mark not in self.known:
            found = self._solutions(goal)
            kept = found[self.are_clear(found, loads)]
            self.known[mark] = self._best(kept if len(kept) else self._further(goal, loads, found, key))
        return self.known[mark]

    def _further(self, goal: Goal, loads: tuple[int, ...], found: Floats, key: str) -> Floats:
        """Clear postures of the nearest attitude that has some; refused, as the target check tells it, if none has."""
        tried = [found]
        for more in attitudes.further(self.inverse, goal.spec):
            tried.append(self._turned(more))
            kept = tried[-1][self.are_clear(tried[-1], loads)]
            if len(kept):
                return kept
        answers = attitudes.checked(self.inverse, goal.spec, [self.scenes[load] for load in loads])
        good = (_core.studies.Outcome.served, _core.studies.Outcome.overloaded)
        q = [answer.q[: self.n] for answer in answers if answer.outcome in good]
        tried.append(self._turned(np.array(q).reshape(-1, self.n)))
        kept = tried[-1][self.are_clear(tried[-1], loads)]
        if len(kept):
            return kept
        for load, answer in zip(loads, answers, strict=True):
            if answer.outcome not in good:
                why = reason_of(self.model, 0.0, answer, [*self.scenes[load].solid_names, ""], "continuous")
                self._refuse(key, goal.words, load, why, answer.outcome)
        return self.clear(np.concatenate(tried), loads, key, goal.words)  # clear with each load, but not in one posture

    def are_clear(self, q: Floats, loads: tuple[int, ...]) -> NDArray[np.bool_]:
        """Which postures are clear of everything with each of the loads."""
        rows = np.ascontiguousarray(q)
        kept = np.ones(len(rows), dtype=bool)
        for load in loads:
            kept &= np.asarray(_core.clearance.are_clear(self.scenes[load], self.model, rows, 0.0), dtype=bool)
        return kept

    def _solutions(self, goal: Goal) -> Floats:
        poses = [goal.pose]
        if goal.free_spin:
            poses = []
            for turn in range(spins):
                pose = goal.pose.copy()
                pose[:3, :3] = pose[:3, :3] @ turn_about((0, 0, 1), 2 * math.pi * turn / spins)
                poses.append(pose)
        q, valid, _ = _core.kinematics.solve(self.inverse, np.array(poses), self.free, True)
        return self._turned(q[valid])

    def _turned(self, found: Floats) -> Floats:
        """The same postures, and those a whole turn of a joint away."""
        for joint in map(int, np.flatnonzero(self.turns)):
            lower, upper = self.model.lower[joint], self.model.upper[joint]
            if not (math.isfinite(upper - lower) and upper - lower > 2 * math.pi) or not len(found):
                continue
            for whole in (-2 * math.pi, 2 * math.pi):
                more = found.copy()
                more[:, joint] += whole
                found = np.concatenate([found, more[(more[:, joint] >= lower) & (more[:, joint] <= upper)]])
        return found

    def _best(self, q: Floats) -> Floats:
        if len(q) <= most_postures:
            return q
        margins = _core.kinematics.limit_margins(self.model, np.ascontiguousarray(q))
        return np.asarray(q[np.sort(np.argsort(-margins, kind="stable")[:most_postures])])

    def clear(self, q: Floats, loads: tuple[int, ...], key: str, words: str) -> Floats:
        """Those that are clear of everything; refused if there is none, with what is nearest to being so."""
        rows, kept = np.ascontiguousarray(q), self.are_clear(q, loads)
        if kept.any():
            return np.asarray(rows[kept])
        spare = []  # with each load what is left beyond the distances to be kept, and of which two
        for load in loads:
            distance, _, _, solids = _core.clearance.least_distances(
                _core.clearance.spare_scene(self.scenes[load], 0.0), self.model, rows
            )
            spare.append((distance, solids))
        short = np.array([distance for distance, _ in spare])
        best = int(np.argmax(short.min(axis=0)))
        which = int(np.argmin(short[:, best]))
        a, b = (self.scenes[loads[which]].solid_names[i] for i in spare[which][1][best])
        required = distance_kept({fixture.name: float(fixture.clearance) for fixture in self.cell.fixtures}, a, b)
        near = obstruction(a, b, float(short[which, best]) + required, required)
        self._refuse(key, words, loads[which], f"{near}, in the best of {len(rows)} postures")

    def _refuse(
        self, key: str, words: str, load: int, why: str, outcome: Any = _core.studies.Outcome.obstructed
    ) -> NoReturn:
        if outcome != _core.studies.Outcome.obstructed:
            raise InputError.of(key, f"{words}: {why}", "a point that the tool reaches within the joint limits")
        carried = f', carrying "{self.loads[load].name}"' if load >= 0 else ", carrying nothing" if self.loads else ""
        raise InputError.of(key, f"{words}{carried}: {why}", "a posture there that is clear of everything")

    def follow(self, q: Floats, poses: Floats, track_to: float | None) -> tuple[Floats, float] | str:
        """The posture at the end of a way of the tool that keeps its branch, and the travel time; or why not."""
        redundant = list(self.inverse.redundant)
        at, travel = q, 0.0
        for i, here in enumerate(self._along(q, poses, track_to, redundant)):
            found = here.copy()
            if not len(found):
                return f"the tool cannot come further along than {100 * i / len(poses):.0f} %"
            found[:, self.turns] += 2 * math.pi * np.round((at[self.turns] - found[:, self.turns]) / (2 * math.pi))
            lower, upper = np.array(self.model.lower), np.array(self.model.upper)
            found = found[((found >= lower - 1e-9) & (found <= upper + 1e-9)).all(axis=1)]
            off = np.abs(found - at).max(axis=1, initial=0.0)
            if not len(found) or off.min() > _JUMP:
                return f"a joint comes to its limit, or the posture would have to jump, at {100 * i / len(poses):.0f} %"
            nearest = found[int(np.argmin(off))]
            travel += float((np.abs(nearest - at) / self.speed).max())
            at = nearest
        return at, travel

    def reaches(self, q: Floats, step: Step, pose: Floats) -> bool:
        """Whether any posture brings the tool there, with the joints that a pose leaves free as a way from q ends."""
        redundant = list(self.inverse.redundant)
        held, to = [float(q[joint]) for joint in redundant], getattr(step.move, "track_to", None)
        if to is not None and self.model.has_track and redundant[:1] == [0]:
            held[0] = float(to)
        _, valid, _ = _core.kinematics.solve(self.inverse, np.ascontiguousarray(pose[None]), [held], True)
        return bool(np.any(valid))

    def _along(self, q: Floats, poses: Floats, track_to: float | None, redundant: list[int]) -> list[Floats]:
        held = [float(q[joint]) for joint in redundant]
        moves = track_to is not None and self.model.has_track and redundant[:1] == [0]
        if not moves:
            solved, valid, _ = _core.kinematics.solve(self.inverse, np.ascontiguousarray(poses), [held], False)
            return [solved[i][valid[i]] for i in range(len(poses))]
        rows = []
        for i, pose in enumerate(poses):
            here = [held[0] + (float(track_to) - held[0]) * (i + 1) / len(poses), *held[1:]]  # type: ignore[arg-type]
            solved, valid, _ = _core.kinematics.solve(self.inverse, pose[None], [here], False)
            rows.append(solved[0][valid[0]])
        return rows

    def travel(self, a: Floats, b: Floats, before_arm: bool) -> Floats:
        """Time that the slowest joint takes between postures, (k, m); a little of the others' too, so that none turns
        for nothing."""
        times = np.abs(a[:, None, :] - b[None, :, :]) / self.speed
        if before_arm and self.model.has_track:
            return np.asarray(times[..., 0] + times[..., 1:].max(axis=-1) + 0.01 * times.sum(axis=-1))
        return np.asarray(times.max(axis=-1) + 0.01 * times.sum(axis=-1))


def _drive_speeds(cell: CellDescription) -> Floats:
    """What the drives' motors allow each joint, rad/s or m/s; infinite without a drive. Coupling does not count."""
    drives = [joint.drive for joint in cell.arm.joints]
    if cell.track is not None:
        drives.insert(0, cell.track.drive)
    return np.array([drive.motor.greatest_speed / abs(drive.ratio) if drive else math.inf for drive in drives])
