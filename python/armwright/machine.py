"""What an arm and a cell have in common: a compiled model, and the kernels that run on it."""

from __future__ import annotations

from concurrent.futures import Executor
from functools import cached_property
from typing import Any, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from armwright import _core, arguments
from armwright.answers import Floats, LimitName, Limits, MovingPayload, Payload, Solutions
from armwright.compile import inertia_of
from armwright.describe import CellDescription, Load
from armwright.describe.pose import EXACT
from armwright.describe.units import LARGEST
from armwright.errors import InputError
from armwright.studies import run
from armwright.studies.piece_store import StorePath
from armwright.studies.pieces import How
from armwright.studies.subject import Subject


class Machine:
    """A chain of joints with a tool: the kernels, batch first. All lengths m, angles rad, masses kg, torques N m
    (forces N for sliding joints). ``q`` has shape (..., n): the track first, if there is one. Frames are told in the
    world."""

    _description: CellDescription

    @cached_property
    def _subject(self) -> Subject:
        return Subject(self._description)

    @property
    def _model(self) -> _core.model.Model:
        return self._subject.model

    @property
    def _inverse(self) -> _core.kinematics.ArmInverse:
        return self._subject.inverse

    @property
    def joint_names(self) -> tuple[str, ...]:
        """Names of the joints in the order of ``q``."""
        return tuple(self._model.joint_names)

    @property
    def joint_count(self) -> int:
        """Number of joints, n; a track counts."""
        return int(self._model.joint_count)

    @property
    def limits(self) -> Limits:
        """Ranges of the joints and the torques that they hold, (n,) each."""
        model = self._model
        return Limits(*(np.array(a) for a in (model.lower, model.upper, model.torque_continuous, model.torque_peak)))

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed of drives, brakes and counterbalances because it was not given."""
        return self._description.assumptions

    def digest(self) -> str:
        """sha256, in hex, of all that was described.

        >>> arm.digest() == aw.load_arm(folder / "arm.toml").digest()
        True
        """
        return self._description.digest()

    # Kinematics

    def tool_pose(self, q: ArrayLike) -> Floats:
        """Tool frames in the world, (..., 4, 4), m, of postures ``q``.

        >>> np.round(arm.tool_pose(q[1:])[:3, 3], 3)      # where the flange is, m
        array([0.877, 0.279, 0.808])
        >>> arm.tool_pose(np.zeros((1000, 6))).shape
        (1000, 4, 4)
        """
        batch, rows = self._rows(q)
        return _core.kinematics.tool_poses(self._model, rows).reshape(*batch, 4, 4)

    def link_poses(self, q: ArrayLike) -> Floats:
        """Frames of all moving links in the world, (..., n, 4, 4), m; the carriage first, if there is a track. A link's
        frame is its joint's, moved; where DH rows describe the arm, the row's frame.

        >>> arm.link_poses(q[1:]).shape
        (6, 4, 4)
        """
        batch, rows = self._rows(q)
        return _core.kinematics.link_poses(self._model, rows).reshape(*batch, self.joint_count, 4, 4)

    def jacobian(self, q: ArrayLike) -> Floats:
        """Geometric Jacobian of the tool point in world axes, (..., 6, n): linear rows (m a rad, or m a m where the
        joint slides), then angular rows (rad a rad).

        >>> arm.jacobian(q[1:]).shape
        (6, 6)
        """
        batch, rows = self._rows(q)
        return _core.kinematics.jacobians(self._model, rows).reshape(*batch, 6, self.joint_count)

    def manipulability(self, q: ArrayLike, motion: Literal["all", "translation", "rotation"] = "all") -> Floats:
        """Yoshikawa's manipulability (1985), (...,): the product of the Jacobian's singular values; of its linear or
        angular rows alone with ``motion``.

        >>> round(float(arm.manipulability(q[1:])), 3)    # 0 where the arm is singular
        0.217
        """
        batch, rows = self._rows(q)
        which = arguments.choice(
            "motion",
            motion,
            {name: getattr(_core.kinematics.Motion, name) for name in ("all", "translation", "rotation")},
        )
        return _core.kinematics.manipulabilities(self._model, rows, which).reshape(batch)

    def conditioning(self, q: ArrayLike, length: Any = 1.0) -> Floats:
        """Least over greatest singular value of the Jacobian, (...,): 0 at a singularity, 1 where the tool moves
        equally well in all directions. Angular rows are multiplied by ``length`` (m) to be comparable; state it with
        the number.

        >>> round(float(arm.conditioning(q[1:], length="300 mm")), 3)
        0.144
        """
        batch, rows = self._rows(q)
        values = _core.kinematics.singular_values(self._model, rows, arguments.length("length", length))
        with np.errstate(invalid="ignore", divide="ignore"):
            return np.where(values[:, 1] > 0, values[:, 0] / values[:, 1], 0.0).reshape(batch)

    def limit_margin(self, q: ArrayLike) -> Floats:
        """Distance to the nearest joint limit as a share of half that joint's range, (...,): 1 at mid-range, 0 at a
        limit, negative beyond.

        >>> round(float(arm.limit_margin(q[1:])), 3)
        0.563
        """
        batch, rows = self._rows(q)
        return _core.kinematics.limit_margins(self._model, rows).reshape(batch)

    def solve(
        self,
        poses: ArrayLike,
        *,
        within_limits: bool = True,
        samples: int = 25,
        executor: Executor | None = None,
        store: StorePath | None = None,
        progress: run.Progress = None,
    ) -> Solutions:
        """All joint vectors that bring the tool frame to each of ``poses``, (..., 4, 4), m in the world.

        With more joints than a pose needs (a track, a seventh axis) the extra ones are tried at ``samples`` values
        spread over their whole range, both ends included, and every branch of each is given. Revolute joints are told
        within their range where whole turns allow; with ``within_limits`` solutions outside it are not valid.
        ``executor``, ``store``, ``progress``: as for the sweeps over a cell; without them one thread does all.

        >>> solutions = arm.solve(arm.tool_pose(q[1:]))
        >>> solutions
        Solutions: 2 of 1 poses, 6 joints
        >>> bool(np.allclose(arm.tool_pose(solutions.q[solutions.valid]), arm.tool_pose(q[1:])))
        True
        """
        from armwright.studies.solve import solve

        batch, targets = self._poses(poses)
        found = solve(
            self._subject, targets, within_limits=bool(within_limits), samples=samples,
            how=How(executor, store, None, progress), inputs_digest=self.digest(),
        )  # fmt: skip
        q, valid, free = (found[name] for name in ("q", "valid", "free_joint"))
        k = valid.shape[1]
        return Solutions(
            q.reshape(*batch, k, self.joint_count), valid.reshape(*batch, k), free.reshape(*batch, k), self.joint_names
        )

    # Loads

    def gravity_torque(self, q: ArrayLike, load: Load | None = None) -> Floats:
        """Torque that each joint's drive holds at rest, (..., n), N m (N): links, tool and load against gravity, less
        what counterbalance springs give.

        >>> np.round(arm.gravity_torque(q[1:])[1:4], 1)       # N m, axes 2 to 4
        array([-88.9, -37.3,   0.1])
        """
        batch, rows = self._rows(q)
        return _core.dynamics.gravity_torques(self._model, self._carried(load), rows).reshape(*batch, self.joint_count)

    def inverse_dynamics(
        self, q: ArrayLike, qd: ArrayLike, qdd: ArrayLike, load: Load | None = None, *, drives: bool = False
    ) -> Floats:
        """Joint torques of a motion, (..., n), N m (N), by Newton and Euler's recursion: links, tool and load against
        gravity and inertia, less what counterbalance springs give; without friction. ``drives``: with what accelerates
        rotors and stages. ``qd`` rad/s and ``qdd`` rad/s² of the shape of ``q``.

        >>> still = np.zeros(6)
        >>> bool(np.allclose(arm.inverse_dynamics(q[1:], still, still), arm.gravity_torque(q[1:])))
        True
        """
        batch, (rows, v, a) = self._rows_together({"q": q, "qd": qd, "qdd": qdd})
        torques = _core.dynamics.inverse_dynamics(self._model, self._carried(load), rows, v, a, bool(drives))
        return torques.reshape(*batch, self.joint_count)

    def motor_torque(self, q: ArrayLike, qd: ArrayLike, qdd: ArrayLike, load: Load | None = None) -> Floats:
        """Torques of the motors for a motion, (..., n): through coupling, stages (efficiency by the direction of
        power), friction and rotors; an axis without a drive tells its own torque. ``qd``, ``qdd`` of the shape of
        ``q``. At rest a motor is asked for what it takes to start, without friction.

        >>> np.round(arm.motor_torque(q[1:], np.zeros(6), np.zeros(6))[1:3], 3)       # N m, to hold axes 2 and 3
        array([-0.896, -0.39 ])
        """
        batch, given = self._rows_together({"q": q, "qd": qd, "qdd": qdd})
        return _core.motion.motor_torques(self._model, self._carried(load), *given).reshape(*batch, self.joint_count)

    def forward_dynamics(
        self, q: ArrayLike, qd: ArrayLike, tau: ArrayLike, load: Load | None = None, *, drives: bool = True
    ) -> Floats:
        """Accelerations, (..., n) in rad/s² (m/s²), that joint torques ``tau`` (N m; N) bring about: of links, tool and
        load, with gravity and counterbalance springs and, with ``drives``, the inertia of rotors and stages; friction
        is not counted. ``qd`` rad/s and ``tau`` of the shape of ``q``.

        >>> still = np.zeros(6)
        >>> held = arm.gravity_torque(q[1:])
        >>> float(np.abs(arm.forward_dynamics(q[1:], still, held)).max().round(9))     # rad/s²: it stays
        0.0
        """
        batch, given = self._rows_together({"q": q, "qd": qd, "tau": tau})
        accelerations, loose = _core.dynamics.forward_dynamics(self._model, self._carried(load), bool(drives), *given)
        if (loose >= 0).any():
            name = self.joint_names[int(loose[loose >= 0][0])]
            raise InputError.of(name, "no mass that it moves", "a link, tool, load or rotor with inertia about it")
        return accelerations.reshape(*batch, self.joint_count)

    def mass_matrix(self, q: ArrayLike, load: Load | None = None, *, drives: bool = False) -> Floats:
        """Joint-space mass matrix, (..., n, n), kg m² (kg where joints slide), of composite bodies; ``drives``: with
        the inertia of rotors and stages as joints feel it.

        >>> mass = arm.mass_matrix(q[1:])
        >>> mass.shape, bool(np.allclose(mass, mass.T))
        ((6, 6), True)
        """
        batch, rows = self._rows(q)
        n = self.joint_count
        return _core.dynamics.mass_matrices(self._model, self._carried(load), rows, bool(drives)).reshape(*batch, n, n)

    def spring_lengths(self, q: ArrayLike) -> Floats:
        """Length of every counterbalance spring, (..., springs), m, whether or not it can be so long.

        >>> arm.spring_lengths(q[1:]).shape               # it has none
        (0,)
        """
        batch, rows = self._rows(q)
        lengths, _ = _core.dynamics.spring_states(self._model, rows)
        return lengths.reshape(*batch, lengths.shape[1])

    def springs_within_stroke(self, q: ArrayLike) -> NDArray[np.bool_]:
        """Whether every counterbalance spring is within its own stroke, (..., springs).

        >>> arm.springs_within_stroke(q[1:]).shape
        (0,)
        """
        lengths = self.spring_lengths(q)
        ranges = np.array(self._model.spring_ranges).reshape(-1, 2)
        return np.asarray((lengths >= ranges[:, 0]) & (lengths <= ranges[:, 1]))

    def payload(self, q: ArrayLike, centre: Any = (0, 0, 0), limit: LimitName = "continuous") -> Payload:
        """Largest mass that each posture holds with its centre of gravity at ``centre`` (m, from the tool frame), and
        the joint that gives out first. The tool's own mass counts as the arm's; the cell's load does not count.

        >>> arm.payload(q[1:])
        Payload: 13.65 kg, limited by axis 3 (reducer 121, continuous)
        >>> arm.payload(q[1:], centre=("0 mm", "0 mm", "200 mm"), limit="peak")
        Payload: 37.14 kg, limited by axis 3 (reducer 121, peak)
        """
        batch, rows = self._rows(q)
        which = run.core_limit(limit)
        at = load_centre(self._model, centre)
        mass, joint, holds, by_joint = _core.limits.static_payloads(self._model, at, which, rows)
        return Payload(
            mass.reshape(batch),
            joint.reshape(batch),
            holds.reshape(batch),
            by_joint.reshape(*batch, self.joint_count),
            self.joint_names,
            limit,
            tuple(self._model.continuous_parts if limit == "continuous" else self._model.peak_parts),
        )

    def payload_in_motion(self, q: ArrayLike, centre: Any = (0, 0, 0), **motion: Any) -> MovingPayload:
        """Largest mass that each posture moves as asked, with its centre of gravity at ``centre`` (m, from the tool
        frame), the joint, part and limit met first. ``motion``: as for ``Cell.payload_at_speed``.

        >>> arm.payload_in_motion(q[1:], tool_acceleration="3 m/s^2")
        MovingPayload: 31.38 kg, by axis 3, reducer 121, stage torque (for tool acceleration)
        """
        from armwright.moving import payload_in_motion

        batch, rows = self._rows(q)
        return payload_in_motion(self._model, batch, rows, centre, **motion)

    # Checks of what comes in

    def _carried(self, load: Load | None) -> _core.model.Inertia:
        if load is None:
            return self._model.load
        if not isinstance(load, Load):
            raise InputError.of("load", repr(load), "a Load, or None for what the description carries")
        return _core.model.load_in_last_joint(self._model, inertia_of(load))

    def _rows(self, values: ArrayLike, key: str = "q") -> tuple[tuple[int, ...], Floats]:
        array = arguments.numbers(key, values)
        n = self.joint_count
        if array.ndim == 0 or array.shape[-1] != n:
            raise InputError.of(
                key, f"an array of shape {array.shape}", f"shape (..., {n}): {', '.join(self.joint_names)}"
            )
        arguments.finite(key, array)
        return array.shape[:-1], np.ascontiguousarray(array.reshape(-1, n))

    def _rows_together(self, given: dict[str, ArrayLike]) -> tuple[tuple[int, ...], list[Floats]]:
        """Joint vectors that belong together, spread to one shape."""
        arrays = [arguments.numbers(key, values) for key, values in given.items()]
        try:
            spread = np.broadcast_arrays(*arrays)
        except ValueError:
            shapes = " and ".join(str(array.shape) for array in arrays)
            raise InputError.of(", ".join(given), f"arrays of shapes {shapes}", "shapes that go together") from None
        rows = [self._rows(array, key) for key, array in zip(given, spread, strict=True)]
        return rows[0][0], [each for _, each in rows]

    def _posture(self, q: ArrayLike | None) -> Floats:
        """One posture; none given: all joints at zero, or at mid-range where zero is outside the range."""
        if q is None:
            lower, upper = self.limits[:2]
            zero_allowed = (lower <= 0) & (upper >= 0)
            return np.array(
                [0.0 if fits else (a + b) / 2 for a, b, fits in zip(lower, upper, zero_allowed, strict=True)]
            )
        batch, rows = self._rows(q)
        if batch:
            raise InputError.of("q", f"an array of shape {np.shape(q)}", f"one posture, shape ({self.joint_count},)")
        return np.asarray(rows[0])

    def _poses(self, poses: ArrayLike) -> tuple[tuple[int, ...], Floats]:
        array = arguments.numbers("poses", poses)
        if array.ndim < 2 or array.shape[-2:] != (4, 4):
            raise InputError.of("poses", f"an array of shape {array.shape}", "shape (..., 4, 4)")
        flat = np.ascontiguousarray(array.reshape(-1, 4, 4))
        if not _core.kinematics.all_rigid(flat, EXACT, LARGEST):  # else they are so as they are to be
            arguments.finite("poses", array)
            flat = arguments.nearest_poses(flat)
        return array.shape[:-2], flat


def load_centre(model: _core.model.Model, centre: Any) -> Floats:
    """A load centre told from the tool frame, told in the last joint frame."""
    at, tool = arguments.position("centre", centre), model.tool
    return np.asarray(tool[:3, :3] @ at + tool[:3, 3])
