"""The cell that a study is about, ready for the core, and able to travel to other processes."""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from armwright import _core
from armwright.compile import build_scene, cell_spec, compile_spec

if TYPE_CHECKING:
    from armwright.studies.elastic import Elastic


class Subject:
    """What is compiled of a cell's description, each part when it is first asked for.

    Constant. It pickles as the description, and is compiled anew where it comes out, once in each process.
    """

    def __init__(self, description: Any):
        self.description = description

    def __reduce__(self) -> tuple[Any, tuple[Any]]:
        return subject_of, (self.description,)

    @cached_property
    def spec(self) -> _core.model.CellSpec:
        """The description in SI, as the core takes it."""
        return cell_spec(self.description)

    @cached_property
    def model(self) -> _core.model.Model:
        """The compiled model."""
        return compile_spec(self.spec)

    @cached_property
    def coupling(self) -> NDArray[np.float64]:
        """Joint positions = coupling · drive positions, (joints, joints), the track first; so a row of the joints'
        torques times it is that of the axes."""
        told = self.description.arm.coupling
        whole = np.eye(self.model.joint_count)
        if told is not None:
            whole[-len(told) :, -len(told) :] = told
        return whole

    @cached_property
    def inverse(self) -> _core.kinematics.ArmInverse:
        """What was prepared for inverse solutions."""
        return _core.kinematics.prepare_inverse(self.model)

    @cached_property
    def solids(self) -> _core.clearance.Scene:
        """The solids of arm, tool, load and cell."""
        return build_scene(self.spec, self.model)

    @cached_property
    def loose(self) -> _core.model.Model | None:
        """Where the tool has fewer than six freedoms: the model with a tool frame that turns freely, which is asked for
        positions alone; the solids are the same. None where it has all six."""
        return None if self.inverse.freedoms >= 6 else _core.kinematics.with_free_wrist(self.model)

    @cached_property
    def loose_inverse(self) -> _core.kinematics.ArmInverse:
        """What was prepared for that model; where there is none, for the model."""
        return self.inverse if self.loose is None else _core.kinematics.prepare_inverse(self.loose)

    @cached_property
    def wrist_inverse(self) -> _core.kinematics.ArmInverse:
        """What was prepared for the model with the wrist centre for a tool point."""
        return _core.kinematics.prepare_inverse(_core.studies.at_wrist_centre(self.model))

    @cached_property
    def elastic(self) -> Elastic:
        """What gives way in the arm; refused where nothing is told that does."""
        from armwright.studies.elastic import elastic_of

        return elastic_of(self)

    @cached_property
    def _carrying(self) -> dict[Any, _core.clearance.Scene]:
        return {}

    def solids_with(self, load: Any) -> _core.clearance.Scene:
        """The solids with another load carried; its shapes count if it has any."""
        if load is None or not load.shapes or load == self.description.load:
            return self.solids
        return self._solids_for(load)

    def solids_carrying(self, load: Any) -> _core.clearance.Scene:
        """The solids with that load carried (its own shapes, or the cell's load's if it has none); None: nothing."""
        described = self.description
        if load is not None or described.load is None or not described.load.shapes:
            return self.solids_with(load)
        return self._solids_for(None)

    def _solids_for(self, load: Any) -> _core.clearance.Scene:
        if load not in self._carrying:
            self._carrying[load] = build_scene(cell_spec(replace(self.description, load=load)), self.model)
        return self._carrying[load]


@lru_cache(maxsize=4)
def subject_of(description: Any) -> Subject:
    """The one subject of that description in this process, as what travelled comes out."""
    return Subject(description)
