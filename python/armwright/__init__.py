"""armwright: reach, payload and clearance of a six-axis arm on a track, before any metal is cut.

>>> import armwright as aw
>>> cell = aw.load_cell("cell.toml")  # doctest: +SKIP
>>> cell.check_targets()              # doctest: +SKIP
"""

from importlib import import_module
from typing import Any

from armwright._core import check_build as _check_build
from armwright.errors import InputError, Problem

_wrong = _check_build()
if _wrong:
    raise ImportError(f"armwright is built against the wrong libraries and would answer wrongly: {_wrong}")

from armwright.answers import Limits, MovingPayload, Payload, Solutions
from armwright.arm import Arm, load_arm
from armwright.cell import Cell, load_cell, load_cycle
from armwright.describe import (
    ArcMove,
    ArmDescription,
    Base,
    BearingPair,
    BeltFeed,
    BoltPattern,
    Box,
    Brake,
    Capsule,
    CellDescription,
    ConvexHull,
    Counterbalance,
    Cycle,
    CycleLimits,
    Cylinder,
    DesignNumber,
    Drive,
    Dwell,
    Friction,
    Guide,
    HalfSpace,
    Joint,
    JointMove,
    LiftingEye,
    LineMove,
    Link,
    LinkStiffness,
    Load,
    Material,
    Mesh,
    Motor,
    Parts,
    PickUp,
    RackFeed,
    RailBeam,
    ScrewFeed,
    ServiceVolume,
    SetDown,
    SlewingBearing,
    Sphere,
    Stage,
    Supply,
    Target,
    Tool,
    Track,
    Tube,
    load_parts,
)
from armwright.designs.alternative import Alternative
from armwright.designs.answer import Answer, Asked
from armwright.designs.prices import TrackPrices
from armwright.studies.run import Cancelled
from armwright.timed import TimedMotion
from armwright.wrenched import LoadRows


def __getattr__(name: str) -> Any:
    # xarray and matplotlib take a second to import; who only asks the kernels does not wait for them.
    if name == "open_result":
        from armwright.results import open_result

        return open_result
    if name in ("pictures", "report", "results"):
        return import_module(f"armwright.{name}")
    if name == "ask":
        return import_module("armwright.designs.ask")
    if name == "__version__":
        from armwright.results.dataset import version

        return version()
    raise AttributeError(f"module 'armwright' has no attribute {name!r}")


__all__ = [
    "Alternative", "Answer", "ArcMove", "Arm", "ArmDescription", "Asked", "Base", "BearingPair", "BeltFeed",
    "BoltPattern", "Box", "Brake", "Cancelled", "Capsule", "Cell", "CellDescription", "ConvexHull", "Counterbalance",
    "Cycle", "CycleLimits", "Cylinder", "DesignNumber", "Drive", "Dwell", "Friction", "Guide", "HalfSpace",
    "InputError", "Joint", "JointMove", "LiftingEye", "Limits", "LineMove", "Link", "LinkStiffness", "Load", "LoadRows",
    "Material", "Mesh", "Motor", "MovingPayload", "Parts", "Payload", "PickUp", "Problem", "RackFeed", "RailBeam",
    "ScrewFeed", "ServiceVolume", "SetDown", "SlewingBearing", "Solutions", "Sphere", "Stage", "Supply", "Target",
    "TimedMotion", "Tool", "Track", "TrackPrices", "Tube", "ask", "load_arm", "load_cell", "load_cycle", "load_parts",
    "open_result",
]  # fmt: skip
