"""
Sweeps. Threaded, with progress, stopped by Ctrl-C; the same bits for any number of threads.
"""
from __future__ import annotations
import armwright._core.clearance
import armwright._core.dynamics
import armwright._core.kinematics
import armwright._core.limits
import armwright._core.model
import armwright._core.motion
import collections.abc
import numpy
import numpy.typing
import typing
__all__: list[str] = ['Grid', 'Merit', 'Outcome', 'PayloadMap', 'PlaceSetup', 'PostureSearch', 'ReachMap', 'SpeedPayloadMap', 'TargetAnswer', 'arm_root', 'at_wrist_centre', 'attitudes_along', 'check_targets', 'counted_volume', 'longest_reach', 'make_place_setup', 'make_search', 'motion_clearance', 'outlines', 'payload_map', 'place_stroke', 'reach_map', 'sag_map', 'score_places', 'shortest_strokes', 'speed_payload_map', 'spread_directions', 'tilt_rings', 'tilted_pose', 'track_intervals', 'work_point_postures']
class PostureSearch:
    """
    What a search for postures keeps to.
    """
    @property
    def samples_track(self) -> bool:
        ...
class Grid:
    """
    Positions origin + spacing (i, j, k).
    """
    def __init__(self, origin: numpy.typing.NDArray[numpy.float64], spacing: typing.SupportsFloat | typing.SupportsIndex, count: typing.Annotated[collections.abc.Sequence[typing.SupportsInt | typing.SupportsIndex], "FixedSize(3)"]) -> None:
        ...
class ReachMap:
    """
    A value for each position.
    """
    @property
    def attitudes_reached(self) -> numpy.typing.NDArray[numpy.int32]:
        ...
    @property
    def clearance(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def complete(self) -> bool:
        ...
    @property
    def limit_margin(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def manipulability(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def track_lower(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def track_upper(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
class PayloadMap:
    """
    A value for each position.
    """
    @property
    def complete(self) -> bool:
        ...
    @property
    def limiting_joint(self) -> numpy.typing.NDArray[numpy.int32]:
        ...
    @property
    def limiting_joint_least(self) -> numpy.typing.NDArray[numpy.int32]:
        ...
    @property
    def mass_greatest(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def mass_least(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
class SpeedPayloadMap:
    """
    A value for each position, at rest and in motion; of masses in motion what moving_payloads tells.
    """
    @property
    def complete(self) -> bool:
        ...
    @property
    def greatest(self) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.int32], numpy.typing.NDArray[numpy.int32], numpy.typing.NDArray[numpy.int32], numpy.typing.NDArray[numpy.int32], numpy.typing.NDArray[numpy.bool]]:
        ...
    @property
    def least(self) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.int32], numpy.typing.NDArray[numpy.int32], numpy.typing.NDArray[numpy.int32], numpy.typing.NDArray[numpy.int32], numpy.typing.NDArray[numpy.bool]]:
        ...
    @property
    def rest_greatest(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def rest_joint(self) -> numpy.typing.NDArray[numpy.int32]:
        ...
    @property
    def rest_joint_least(self) -> numpy.typing.NDArray[numpy.int32]:
        ...
    @property
    def rest_least(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
class Merit:
    """
    Members:
    
      limit_margin
    
      clearance
    
      payload
    
      manipulability
    
      clearance_spare
    """
    __members__: typing.ClassVar[dict[str, Merit]]
    clearance: typing.ClassVar[Merit]
    clearance_spare: typing.ClassVar[Merit]
    limit_margin: typing.ClassVar[Merit]
    manipulability: typing.ClassVar[Merit]
    payload: typing.ClassVar[Merit]
    @typing.overload
    def __eq__(self, other: Merit) -> bool:
        ...
    @typing.overload
    def __eq__(self, other: typing.Any) -> bool:
        ...
    def __getstate__(self) -> int:
        ...
    def __hash__(self) -> int:
        ...
    def __index__(self) -> int:
        ...
    def __init__(self, value: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    def __int__(self) -> int:
        ...
    @typing.overload
    def __ne__(self, other: Merit) -> bool:
        ...
    @typing.overload
    def __ne__(self, other: typing.Any) -> bool:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, state: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    def __str__(self) -> str:
        ...
    @property
    def name(self) -> str:
        ...
    @property
    def value(self) -> int:
        ...
class Outcome:
    """
    Members:
    
      out_of_reach
    
      beyond_limits
    
      obstructed
    
      overloaded
    
      served
    """
    __members__: typing.ClassVar[dict[str, Outcome]]
    beyond_limits: typing.ClassVar[Outcome]
    obstructed: typing.ClassVar[Outcome]
    out_of_reach: typing.ClassVar[Outcome]
    overloaded: typing.ClassVar[Outcome]
    served: typing.ClassVar[Outcome]
    @typing.overload
    def __eq__(self, other: Outcome) -> bool:
        ...
    @typing.overload
    def __eq__(self, other: typing.Any) -> bool:
        ...
    def __getstate__(self) -> int:
        ...
    def __hash__(self) -> int:
        ...
    def __index__(self) -> int:
        ...
    def __init__(self, value: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    def __int__(self) -> int:
        ...
    @typing.overload
    def __ne__(self, other: Outcome) -> bool:
        ...
    @typing.overload
    def __ne__(self, other: typing.Any) -> bool:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, state: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    def __str__(self) -> str:
        ...
    @property
    def name(self) -> str:
        ...
    @property
    def value(self) -> int:
        ...
class TargetAnswer:
    @property
    def distance(self) -> float:
        ...
    @property
    def excess(self) -> float:
        ...
    @property
    def free_joint(self) -> int:
        ...
    @property
    def has_posture(self) -> bool:
        ...
    @property
    def holds_itself(self) -> bool:
        ...
    @property
    def limit_joint(self) -> int:
        ...
    @property
    def limit_margin(self) -> float:
        ...
    @property
    def manipulability(self) -> float:
        ...
    @property
    def obstacle_a(self) -> int:
        ...
    @property
    def obstacle_b(self) -> int:
        ...
    @property
    def obstacle_distance(self) -> float:
        ...
    @property
    def obstacle_required(self) -> float:
        ...
    @property
    def outcome(self) -> Outcome:
        ...
    @property
    def payload(self) -> float:
        ...
    @property
    def payload_joint(self) -> int:
        ...
    @property
    def postures(self) -> int:
        ...
    @property
    def q(self) -> typing.Annotated[list[float], "FixedSize(12)"]:
        ...
    @property
    def shortfall(self) -> float:
        ...
    @property
    def solid_a(self) -> int:
        ...
    @property
    def solid_b(self) -> int:
        ...
    @property
    def too_near(self) -> bool:
        ...
class PlaceSetup:
    """
    What all places to be scored share.
    """
    @property
    def reach(self) -> float:
        ...
def arm_root(model: armwright._core.model.Model, track: typing.SupportsFloat | typing.SupportsIndex) -> numpy.typing.NDArray[numpy.float64]:
    """
    Where that frame stands when the track is there, (3,).
    """
def at_wrist_centre(model: armwright._core.model.Model) -> armwright._core.model.Model:
    """
    The model with its tool point at the wrist centre.
    """
def attitudes_along(directions: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], spins: typing.SupportsInt | typing.SupportsIndex) -> numpy.typing.NDArray[numpy.float64]:
    """
    Tool attitudes with z along each direction at each spin, (n, 3, 3).
    """
def check_targets(search: PostureSearch, targets: collections.abc.Sequence[armwright._core.model.TargetSpec], limit: armwright._core.limits.Limit, angle_step: typing.SupportsFloat | typing.SupportsIndex, order: collections.abc.Sequence[Merit], threads: typing.SupportsInt | typing.SupportsIndex, report: typing.Any) -> list[TargetAnswer]:
    ...
def counted_volume(grid: Grid, marked: typing.Annotated[numpy.typing.ArrayLike, numpy.uint8]) -> tuple[float, float]:
    """
    Volume of the marked positions and its error, m³.
    """
def longest_reach(model: armwright._core.model.Model) -> float:
    """
    Farthest that a tool point can be from the first arm axis' frame, m.
    """
def make_place_setup(inverse: armwright._core.kinematics.ArmInverse, scenes: collections.abc.Sequence[armwright._core.clearance.Scene], targets: collections.abc.Sequence[armwright._core.model.TargetSpec], zones: collections.abc.Sequence[armwright._core.model.ShapeSpec], going_along: collections.abc.Sequence[str], wanted: typing.Annotated[collections.abc.Sequence[bool], "FixedSize(3)"], limit: armwright._core.limits.Limit, margin: typing.SupportsFloat | typing.SupportsIndex, turn_step: typing.SupportsFloat | typing.SupportsIndex, slide_step: typing.SupportsFloat | typing.SupportsIndex, parked: bool) -> PlaceSetup:
    """
    `scenes`: for each target the solids, with what is carried there; `wanted`: which of limit margin, clearance and payload.
    """
def make_search(inverse: armwright._core.kinematics.ArmInverse, scene: armwright._core.clearance.Scene | None, margin: typing.SupportsFloat | typing.SupportsIndex, slide_step: typing.SupportsFloat | typing.SupportsIndex, turn_step: typing.SupportsFloat | typing.SupportsIndex) -> PostureSearch:
    """
    A search over redundant joints at most that far apart (m, rad); scene None: clearance does not count.
    """
def motion_clearance(model: armwright._core.model.Model, scenes: collections.abc.Sequence[armwright._core.clearance.Scene], motion: armwright._core.motion.TimedMotion, moves: typing.SupportsInt | typing.SupportsIndex, tolerance: typing.SupportsFloat | typing.SupportsIndex, threads: typing.SupportsInt | typing.SupportsIndex, report: typing.Any) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], list[typing.Annotated[list[str], "FixedSize(2)"]], numpy.typing.NDArray[numpy.uint8]]:
    """
    Least distance at each row; of each move the least, its proven lower bound, when, the names of the two solids, and whether every pair keeps what it asks for. Empty if it was cancelled.
    """
def outlines(search: PostureSearch, spacing: typing.SupportsFloat | typing.SupportsIndex, directions: typing.SupportsInt | typing.SupportsIndex, spins: typing.SupportsInt | typing.SupportsIndex, threads: typing.SupportsInt | typing.SupportsIndex, report: typing.Any) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], bool]:
    ...
def payload_map(search: PostureSearch, positions: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], attitudes: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], centre: numpy.typing.NDArray[numpy.float64], limit: armwright._core.limits.Limit, threads: typing.SupportsInt | typing.SupportsIndex, report: typing.Any) -> PayloadMap:
    ...
def place_stroke(lower: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], upper: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], length: typing.SupportsFloat | typing.SupportsIndex, first: typing.SupportsFloat | typing.SupportsIndex, last: typing.SupportsFloat | typing.SupportsIndex) -> tuple[float, int]:
    """
    Where a stroke of that length between first and last serves most points, m, and how many.
    """
def reach_map(search: PostureSearch, positions: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], attitudes: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], threads: typing.SupportsInt | typing.SupportsIndex, report: typing.Any) -> ReachMap:
    ...
def sag_map(search: PostureSearch, chain: armwright._core.dynamics.ElasticChain, load: armwright._core.model.Inertia, positions: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], attitudes: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], threads: typing.SupportsInt | typing.SupportsIndex, report: typing.Any) -> tuple[bool, numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.int32], numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64]]:
    """
    Whether it was not cancelled; of each position the least and greatest shift, how much lower, the main cause and its share, and the posture.
    """
def score_places(setup: PlaceSetup, shifts: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], tracks: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], angle_step: typing.SupportsFloat | typing.SupportsIndex, thorough: bool, threads: typing.SupportsInt | typing.SupportsIndex, report: typing.Any) -> tuple[numpy.typing.NDArray[numpy.int32], numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64]]:
    """
    Of each place the number of points served (-1: no place to stand), how much those not served lack, and the worst (n, 3, 3): of each measure, postures chosen by each. No rows if it was cancelled.
    """
def shortest_strokes(lower: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], upper: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64]]:
    """
    Where the shortest stroke from which 1, 2, ... all points are served begins, and its length, m; NaN where so many cannot be. The stretches of each point: (points, most), NaN where it has fewer.
    """
def speed_payload_map(search: PostureSearch, setup: armwright._core.limits.MovingSetup, positions: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], attitudes: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], rest: armwright._core.limits.Limit, threads: typing.SupportsInt | typing.SupportsIndex, report: typing.Any) -> SpeedPayloadMap:
    ...
def spread_directions(count: typing.SupportsInt | typing.SupportsIndex) -> numpy.typing.NDArray[numpy.float64]:
    """
    Unit vectors spread nearly evenly over the sphere, (count, 3).
    """
def tilt_rings(target: armwright._core.model.TargetSpec, step: typing.SupportsFloat | typing.SupportsIndex) -> list[numpy.typing.NDArray[numpy.float64]]:
    """
    Directions of the tool's axis within a work point's cone, ring by ring from the middle, at most that far apart, rad.
    """
def tilted_pose(target: armwright._core.model.TargetSpec, direction: numpy.typing.NDArray[numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    The work point's pose, tilted by the least turn to have the tool's axis along a direction.
    """
def track_intervals(inverse: armwright._core.kinematics.ArmInverse, scene: armwright._core.clearance.Scene | None, targets: collections.abc.Sequence[armwright._core.model.TargetSpec], limit: armwright._core.limits.Limit, margin: typing.SupportsFloat | typing.SupportsIndex, turn_step: typing.SupportsFloat | typing.SupportsIndex, slide_step: typing.SupportsFloat | typing.SupportsIndex, threads: typing.SupportsInt | typing.SupportsIndex, report: typing.Any) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64]]:
    """
    Lower and upper ends of the stretches of the track from which each work point is served, (targets, most), m, and a posture in the middle of each, (targets, most, joints); NaN where a point has fewer. No rows if it was cancelled.
    """
def work_point_postures(search: PostureSearch, target: armwright._core.model.TargetSpec, directions: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], step: typing.SupportsFloat | typing.SupportsIndex) -> numpy.typing.NDArray[numpy.float64]:
    """
    Postures within the joint limits at a work point, its tool's axis along one of the directions, spins at most a step apart, (rows, joints).
    """
