"""What joints, mount and rails bear in a motion, as methods of an arm and a cell."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from armwright import _core, arguments
from armwright.answers import Floats
from armwright.describe import Load
from armwright.errors import InputError
from armwright.machine import Machine


class Wrenches(Machine):
    """A machine whose parts push on one another. A wrench is a force, N, then a moment, N m. ``q`` rad (m where a joint
    slides), (..., n); ``qd`` rad/s and ``qdd`` rad/s² (m/s, m/s²) in the same shape; the load is by default what the
    description carries. By the equations of Newton and Euler for rigid bodies, link by link, as ``inverse_dynamics``,
    weights included. Shapes that do not fit and numbers that are not finite are refused (InputError)."""

    def base_wrench(
        self, q: ArrayLike, qd: ArrayLike, qdd: ArrayLike, load: Load | None = None, *, about: Any = (0.0, 0.0, 0.0)
    ) -> Floats:
        """What all that the joints move puts on rails (carriage and base link included) or foot (without the foot's own
        weight), (..., 6): force N, then moment N m about ``about`` (m, world); world axes.

        >>> still = np.zeros(6)
        >>> float(np.round(arm.base_wrench(q[1:], still, still)[2]))       # N, without the foot's own weight
        -471.0
        """
        batch, given = self._rows_together({"q": q, "qd": qd, "qdd": qdd})
        wrench = _core.dynamics.base_wrenches(self._model, self._carried(load), *given).reshape(*batch, 6)
        wrench[..., 3:] -= np.cross(arguments.position("about", about), wrench[..., :3])
        return wrench

    def joint_wrench(self, q: ArrayLike, qd: ArrayLike, qdd: ArrayLike, load: Load | None = None) -> Floats:
        """What the part before each joint puts on the link that the joint moves, (..., n, 6), in that link's frame (the
        joint's, moved) about its origin. Along the joint's axis that is what drive, brake and friction carry, as
        ``inverse_dynamics`` tells it; all the rest is the bearing's. Counterbalance springs act between the links that
        they join, so that the joints between those bear them. Moments by which rotors speed up or are turned round are
        left out.

        >>> still = np.zeros(6)
        >>> float(np.round(arm.joint_wrench(q[1:], still, still)[0, 2]))       # N, upright, on what axis 1 moves
        471.0
        """
        batch, given = self._rows_together({"q": q, "qd": qd, "qdd": qdd})
        wrench = _core.dynamics.joint_wrenches(self._model, self._carried(load), *given)
        return wrench.reshape(*batch, self.joint_count, 6)

    def mount_wrench(self, q: ArrayLike, qd: ArrayLike, qdd: ArrayLike, load: Load | None = None) -> Floats:
        """What the arm with its base link puts on what that is bolted to (the floor, or the track's carriage),
        (..., 6), in the mount's frame about its origin. Springs leave no mark: both their ends are on the arm.

        >>> still = np.zeros(6)
        >>> float(np.round(arm.mount_wrench(q[1:], still, still)[2]))          # N, upright, on the floor
        -775.0
        """
        batch, given = self._rows_together({"q": q, "qd": qd, "qdd": qdd})
        return _core.dynamics.mount_wrenches(self._model, self._carried(load), *given).reshape(*batch, 6)

    def carriage_wrench(self, q: ArrayLike, qd: ArrayLike, qdd: ArrayLike, load: Load | None = None) -> Floats:
        """What the carriage with all that stands on it puts on its rails and its feed, (..., 6), in the track's axes
        about the origin of the carriage's frame. The force along the track is the feed's. Refused without a track.

        >>> still = np.zeros(7)
        >>> float(np.round(cell.carriage_wrench(q, still, still)[2]))          # N, upright, on the rails
        -1086.0
        """
        if not self._model.has_track:
            raise InputError.of("carriage_wrench", "an arm without a track", "a cell with a track")
        return -self.joint_wrench(q, qd, qdd, load)[..., 0, :]
