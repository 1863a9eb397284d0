"""
Machine elements: formulas on numbers, SI; see cpp/armwright/elements.
"""
from __future__ import annotations
import collections.abc
import numpy
import numpy.typing
import typing
__all__: list[str] = ['Arrangement', 'Beam', 'BearingKind', 'BearingPair', 'BoltGroup', 'MovedRing', 'PropertyClass', 'RollingBearing', 'ScrewEnds', 'SectionNumbers', 'SlewingBearing', 'TubeSection', 'TubeShape', 'advised_static_safety', 'belt_stiffness', 'belt_tensions', 'bolt_force', 'branch_share', 'buckling_force', 'capacitor_energy', 'coarsest_resolution', 'contact_angles', 'convex_hull', 'critical_swing', 'curve_value', 'duty_type', 'equivalent_block_load', 'equivalent_load', 'feet_forces', 'footings', 'greatest_life_load', 'guide_life', 'guide_life_holds', 'guide_static_safety', 'induced_axial_load', 'inertia_ratio', 'joint_safety', 'kinetic_energy', 'lewis_factor', 'life_exponent', 'limit_line_safety', 'load_factor', 'load_factors', 'mains_current', 'mean_equivalent_load', 'mean_powered_torque', 'momentary_peaks', 'needed_rating', 'pair_axial', 'pair_radial', 'pinion_bending', 'pinion_diameter', 'preloaded_block_load', 'proof_safety', 'property_class', 'pulse_rate', 'rack_forces', 'rating_at_distance', 'rating_life', 'reducer_life', 'reliability_factor', 'section_numbers', 'section_stresses', 'separation_along', 'separation_arm', 'separation_guard', 'separation_light_curtain', 'separation_two_hand', 'slenderness', 'square_integral', 'stage_input_torque', 'static_equivalent_load', 'static_factors', 'stop_distance', 'stop_places', 'stress_area', 'strut_force', 'tilted_radial_load', 'tipping_moments', 'told_safety', 'tooth_foot_stress', 'wall_slenderness', 'wear_integral', 'whirling_speed', 'winding_loss_factor']
class BoltGroup:
    """
    Points of equal bolts (n, 2) and the plate's outline (m, 2; empty: none told), m.
    """
    def __init__(self, points: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], plate: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> None:
        ...
    def elastic(self, loads: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
        """
        Tension of each bolt (rows, n), the group about its centroid; loads (rows, 6).
        """
    def far(self, loads: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
        """
        The same, about an edge with the farthest bolts alone.
        """
    def pivot(self, loads: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
        """
        The same, the plate tilting about the edge or corner that comes to rest.
        """
    def shear(self, loads: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.ndarray[typing.Any, numpy.dtype[typing.Any]]:
        """
        Shear of each bolt (rows, n, 2), N.
        """
    def slip(self, loads: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], clamps: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], friction: typing.SupportsFloat | typing.SupportsIndex) -> numpy.typing.NDArray[numpy.float64]:
        """
        Safety against slipping and a bound above it (rows, 2).
        """
    @property
    def in_line(self) -> bool:
        ...
class PropertyClass:
    @property
    def in_joints(self) -> bool:
        ...
    @property
    def in_standard(self) -> bool:
        ...
    @property
    def nominal(self) -> float:
        ...
    @property
    def proof(self) -> float:
        ...
    @property
    def shear_share(self) -> float:
        ...
    @property
    def tensile(self) -> float:
        ...
    @property
    def yield_strength(self) -> float:
        ...
class TubeShape:
    """
    Members:
    
      round
    
      rectangular
    """
    __members__: typing.ClassVar[dict[str, TubeShape]]
    rectangular: typing.ClassVar[TubeShape]
    round: typing.ClassVar[TubeShape]
    @typing.overload
    def __eq__(self, other: TubeShape) -> bool:
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
    def __ne__(self, other: TubeShape) -> bool:
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
class TubeSection:
    shape: TubeShape
    def __init__(self) -> None:
        ...
    @property
    def height(self) -> float:
        ...
    @height.setter
    def height(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def inner_radius(self) -> float:
        ...
    @inner_radius.setter
    def inner_radius(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def outer_radius(self) -> float:
        ...
    @outer_radius.setter
    def outer_radius(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def wall(self) -> float:
        ...
    @wall.setter
    def wall(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def width(self) -> float:
        ...
    @width.setter
    def width(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class SectionNumbers:
    @property
    def area(self) -> float:
        ...
    @property
    def moment_y(self) -> float:
        ...
    @property
    def moment_z(self) -> float:
        ...
    @property
    def shear_area_y(self) -> float:
        ...
    @property
    def shear_area_z(self) -> float:
        ...
    @property
    def torsion(self) -> float:
        ...
    @property
    def torsion_modulus(self) -> float:
        ...
class Beam:
    def __init__(self) -> None:
        ...
    @property
    def along(self) -> float:
        ...
    @along.setter
    def along(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def bending_y(self) -> float:
        ...
    @bending_y.setter
    def bending_y(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def bending_z(self) -> float:
        ...
    @bending_z.setter
    def bending_z(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def length(self) -> float:
        ...
    @length.setter
    def length(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def shear_y(self) -> float:
        ...
    @shear_y.setter
    def shear_y(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def shear_z(self) -> float:
        ...
    @shear_z.setter
    def shear_z(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def torsion(self) -> float:
        ...
    @torsion.setter
    def torsion(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class BearingKind:
    """
    Members:
    
      deep_groove
    
      angular_contact
    
      tapered
    
      four_point
    
      crossed_roller
    """
    __members__: typing.ClassVar[dict[str, BearingKind]]
    angular_contact: typing.ClassVar[BearingKind]
    crossed_roller: typing.ClassVar[BearingKind]
    deep_groove: typing.ClassVar[BearingKind]
    four_point: typing.ClassVar[BearingKind]
    tapered: typing.ClassVar[BearingKind]
    @typing.overload
    def __eq__(self, other: BearingKind) -> bool:
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
    def __ne__(self, other: BearingKind) -> bool:
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
class Arrangement:
    """
    Members:
    
      face_to_face
    
      back_to_back
    
      fixed_near
    
      fixed_far
    """
    __members__: typing.ClassVar[dict[str, Arrangement]]
    back_to_back: typing.ClassVar[Arrangement]
    face_to_face: typing.ClassVar[Arrangement]
    fixed_far: typing.ClassVar[Arrangement]
    fixed_near: typing.ClassVar[Arrangement]
    @typing.overload
    def __eq__(self, other: Arrangement) -> bool:
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
    def __ne__(self, other: Arrangement) -> bool:
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
class MovedRing:
    """
    Members:
    
      unknown
    
      inner
    
      outer
    """
    __members__: typing.ClassVar[dict[str, MovedRing]]
    inner: typing.ClassVar[MovedRing]
    outer: typing.ClassVar[MovedRing]
    unknown: typing.ClassVar[MovedRing]
    @typing.overload
    def __eq__(self, other: MovedRing) -> bool:
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
    def __ne__(self, other: MovedRing) -> bool:
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
class RollingBearing:
    """
    One bearing as it is calculated; NaN: not told, or the standard's. See cpp/armwright/elements/rolling_bearing.hpp.
    """
    def __init__(self, kind: BearingKind, contact_angle: typing.SupportsFloat | typing.SupportsIndex, dynamic_rating: typing.SupportsFloat | typing.SupportsIndex, static_rating: typing.SupportsFloat | typing.SupportsIndex, own_factors: tuple[typing.SupportsFloat | typing.SupportsIndex, typing.SupportsFloat | typing.SupportsIndex, typing.SupportsFloat | typing.SupportsIndex, typing.SupportsFloat | typing.SupportsIndex, typing.SupportsFloat | typing.SupportsIndex] = ..., own_static_factors: tuple[typing.SupportsFloat | typing.SupportsIndex, typing.SupportsFloat | typing.SupportsIndex] = ..., f0: typing.SupportsFloat | typing.SupportsIndex = ...) -> None:
        ...
    @property
    def contact_angle(self) -> float:
        ...
    @property
    def dynamic_rating(self) -> float:
        ...
    @property
    def kind(self) -> BearingKind:
        ...
    @property
    def static_rating(self) -> float:
        ...
class SlewingBearing:
    """
    One bearing that takes a tilting moment too.
    """
    def __init__(self, rolling: RollingBearing, pitch_diameter: typing.SupportsFloat | typing.SupportsIndex, moment_rating: typing.SupportsFloat | typing.SupportsIndex = ...) -> None:
        ...
    @property
    def pitch_diameter(self) -> float:
        ...
    @property
    def rolling(self) -> RollingBearing:
        ...
class BearingPair:
    """
    Two bearings on one axis, near and far; see cpp/armwright/elements/bearing_pair.hpp.
    """
    def __init__(self, near: RollingBearing, far: RollingBearing, arrangement: Arrangement, moved_ring: MovedRing, span: typing.SupportsFloat | typing.SupportsIndex, pressure_centre: typing.SupportsFloat | typing.SupportsIndex, preload: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def effective_span(self) -> float:
        ...
    @property
    def span(self) -> float:
        ...
class ScrewEnds:
    """
    Members:
    
      fixed_free
    
      supported_supported
    
      fixed_supported
    
      fixed_fixed
    """
    __members__: typing.ClassVar[dict[str, ScrewEnds]]
    fixed_fixed: typing.ClassVar[ScrewEnds]
    fixed_free: typing.ClassVar[ScrewEnds]
    fixed_supported: typing.ClassVar[ScrewEnds]
    supported_supported: typing.ClassVar[ScrewEnds]
    @typing.overload
    def __eq__(self, other: ScrewEnds) -> bool:
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
    def __ne__(self, other: ScrewEnds) -> bool:
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
def advised_static_safety(kind: BearingKind) -> float:
    ...
def belt_stiffness(specific_stiffness: typing.SupportsFloat | typing.SupportsIndex, length: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def belt_tensions(force: typing.SupportsFloat | typing.SupportsIndex, preload: typing.SupportsFloat | typing.SupportsIndex, share: typing.SupportsFloat | typing.SupportsIndex) -> tuple[float, float]:
    """
    Tight strand, slack strand.
    """
def bolt_force(tension: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], preload: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], load_share: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> typing.Any:
    ...
def branch_share(current: typing.SupportsFloat | typing.SupportsIndex, breaker_current: typing.SupportsFloat | typing.SupportsIndex, continuous: bool) -> float:
    ...
def buckling_force(diameter: typing.SupportsFloat | typing.SupportsIndex, free_length: typing.SupportsFloat | typing.SupportsIndex, modulus: typing.SupportsFloat | typing.SupportsIndex, ends: ScrewEnds) -> float:
    ...
def capacitor_energy(capacitance: typing.SupportsFloat | typing.SupportsIndex, start: typing.SupportsFloat | typing.SupportsIndex, end: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def coarsest_resolution(height: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def contact_angles(kind: BearingKind) -> tuple[float, float]:
    ...
def convex_hull(points: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Convex hull (n, 2), counter-clockwise.
    """
def critical_swing(kind: BearingKind, element_count: typing.SupportsInt | typing.SupportsIndex) -> float:
    ...
def curve_value(speed: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], torque: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], at: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def duty_type(spans: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], repeated: bool) -> tuple[int, float, float, float, float]:
    """
    Spans of time, torque from and to, speed from and to. Number of the duty type, duration factor, RMS torque, RMS and mean speed.
    """
def equivalent_block_load(load: typing.Annotated[collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], "FixedSize(5)"], factors: typing.Annotated[collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], "FixedSize(6)"]) -> float:
    ...
def equivalent_load(bearing: RollingBearing, radial: typing.SupportsFloat | typing.SupportsIndex, axial: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def feet_forces(feet: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], loads: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Force on each of equally stiff feet (rows, n), N; NaN: does not rest.
    """
def footings(outline: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], loads: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Pressure a + b x + c y where positive, the greatest (NaN: does not rest so), share in contact: (rows, 5).
    """
def greatest_life_load(kind: BearingKind, dynamic_rating: typing.SupportsFloat | typing.SupportsIndex, static_rating: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def guide_life(rating: typing.SupportsFloat | typing.SupportsIndex, distance: typing.SupportsFloat | typing.SupportsIndex, mean_load: typing.SupportsFloat | typing.SupportsIndex, roller: bool) -> float:
    ...
def guide_static_safety(static_rating: typing.SupportsFloat | typing.SupportsIndex, static_load: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def induced_axial_load(bearing: RollingBearing, radial: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def inertia_ratio(load_inertia: typing.SupportsFloat | typing.SupportsIndex, ratio: typing.SupportsFloat | typing.SupportsIndex, motor_inertia: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def joint_safety(property: PropertyClass, area: typing.SupportsFloat | typing.SupportsIndex, tension: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], shear: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> typing.Any:
    ...
def kinetic_energy(inertia: typing.SupportsFloat | typing.SupportsIndex, speed: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def lewis_factor(teeth: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def life_exponent(kind: BearingKind) -> float:
    ...
def limit_line_safety(line_force: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], line_moment: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], axial: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], moment: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    ...
def load_factor(proof_stress: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], area: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], tension: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], preload: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], load_share: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> typing.Any:
    ...
def load_factors(bearing: RollingBearing, axial: typing.SupportsFloat | typing.SupportsIndex) -> tuple[float, float, float, float, float]:
    """
    e, X and Y up to it, X and Y beyond it.
    """
def mains_current(power: typing.SupportsFloat | typing.SupportsIndex, voltage: typing.SupportsFloat | typing.SupportsIndex, phases: typing.SupportsInt | typing.SupportsIndex, power_factor: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def mean_equivalent_load(wear: typing.SupportsFloat | typing.SupportsIndex, turned: typing.SupportsFloat | typing.SupportsIndex, exponent: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def mean_powered_torque(wear: typing.SupportsFloat | typing.SupportsIndex, turned: typing.SupportsFloat | typing.SupportsIndex, exponent: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def momentary_peaks(input_speed: typing.SupportsFloat | typing.SupportsIndex, time: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def needed_rating(equivalent_load: typing.SupportsFloat | typing.SupportsIndex, revolutions: typing.SupportsFloat | typing.SupportsIndex, exponent: typing.SupportsFloat | typing.SupportsIndex, reliability_factor: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def pair_axial(induced_pressed: typing.SupportsFloat | typing.SupportsIndex, induced_other: typing.SupportsFloat | typing.SupportsIndex, external: typing.SupportsFloat | typing.SupportsIndex, preload: typing.SupportsFloat | typing.SupportsIndex, share: typing.SupportsFloat | typing.SupportsIndex) -> tuple[float, float]:
    ...
def pair_radial(force_x: typing.SupportsFloat | typing.SupportsIndex, force_y: typing.SupportsFloat | typing.SupportsIndex, moment_x: typing.SupportsFloat | typing.SupportsIndex, moment_y: typing.SupportsFloat | typing.SupportsIndex, effective_span: typing.SupportsFloat | typing.SupportsIndex) -> tuple[tuple[float, float], tuple[float, float]]:
    """
    Forces on near and far, each x and y.
    """
def pinion_bending(force: typing.SupportsFloat | typing.SupportsIndex, pressure_angle: typing.SupportsFloat | typing.SupportsIndex, helix: typing.SupportsFloat | typing.SupportsIndex, diameter: typing.SupportsFloat | typing.SupportsIndex, overhang: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def pinion_diameter(module: typing.SupportsFloat | typing.SupportsIndex, teeth: typing.SupportsFloat | typing.SupportsIndex, helix: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def preloaded_block_load(load: typing.SupportsFloat | typing.SupportsIndex, preload: typing.SupportsFloat | typing.SupportsIndex, roller: bool) -> float:
    ...
def proof_safety(proof_stress: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], area: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], tension: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], shear: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], preload: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], load_share: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> typing.Any:
    ...
def property_class(name: str, diameter: typing.SupportsFloat | typing.SupportsIndex) -> PropertyClass | None:
    ...
def pulse_rate(motor_speed: typing.SupportsFloat | typing.SupportsIndex, counts_a_turn: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def rack_forces(force: typing.SupportsFloat | typing.SupportsIndex, pressure_angle: typing.SupportsFloat | typing.SupportsIndex, helix: typing.SupportsFloat | typing.SupportsIndex) -> tuple[float, float, float, float]:
    """
    Tangential, radial, axial; across the shaft.
    """
def rating_at_distance(rating: typing.SupportsFloat | typing.SupportsIndex, distance: typing.SupportsFloat | typing.SupportsIndex, wanted: typing.SupportsFloat | typing.SupportsIndex, roller: bool) -> float:
    ...
def rating_life(dynamic_rating: typing.SupportsFloat | typing.SupportsIndex, equivalent_load: typing.SupportsFloat | typing.SupportsIndex, exponent: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def reducer_life(rated_life: typing.SupportsFloat | typing.SupportsIndex, rated_speed: typing.SupportsFloat | typing.SupportsIndex, rated_torque: typing.SupportsFloat | typing.SupportsIndex, mean_speed: typing.SupportsFloat | typing.SupportsIndex, mean_torque: typing.SupportsFloat | typing.SupportsIndex, exponent: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def reliability_factor(reliability: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def section_numbers(tube: TubeSection, poisson: typing.SupportsFloat | typing.SupportsIndex) -> SectionNumbers:
    ...
def section_stresses(tube: TubeSection, poisson: typing.SupportsFloat | typing.SupportsIndex, wrenches: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Normal, shear and von Mises stress, Pa, (rows, 3), by force and moment in the section (rows, 6).
    """
def separation_along(stop_time: typing.SupportsFloat | typing.SupportsIndex, height: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def separation_arm(stop_time: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def separation_guard(stop_time: typing.SupportsFloat | typing.SupportsIndex, reach_through: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def separation_light_curtain(stop_time: typing.SupportsFloat | typing.SupportsIndex, resolution: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def separation_two_hand(stop_time: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def slenderness(diameter: typing.SupportsFloat | typing.SupportsIndex, free_length: typing.SupportsFloat | typing.SupportsIndex, ends: ScrewEnds) -> float:
    ...
def square_integral(a: typing.SupportsFloat | typing.SupportsIndex, b: typing.SupportsFloat | typing.SupportsIndex, time: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def stage_input_torque(torque: typing.SupportsFloat | typing.SupportsIndex, direction: typing.SupportsFloat | typing.SupportsIndex, ratio: typing.SupportsFloat | typing.SupportsIndex, efficiency: typing.SupportsFloat | typing.SupportsIndex, efficiency_back: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def static_equivalent_load(bearing: RollingBearing, radial: typing.SupportsFloat | typing.SupportsIndex, axial: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def static_factors(bearing: RollingBearing) -> tuple[float, float]:
    ...
def stop_distance(speed: typing.SupportsFloat | typing.SupportsIndex, reaction_time: typing.SupportsFloat | typing.SupportsIndex, deceleration: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def stop_places(controlled_travel: typing.SupportsFloat | typing.SupportsIndex, brake_travel: typing.SupportsFloat | typing.SupportsIndex, switch_error: typing.SupportsFloat | typing.SupportsIndex, reserve: typing.SupportsFloat | typing.SupportsIndex) -> tuple[float, float]:
    """
    How far before a hard stop the limit switch and the soft limit stand.
    """
def stress_area(diameter: typing.SupportsFloat | typing.SupportsIndex, pitch: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def strut_force(diameter: typing.SupportsFloat | typing.SupportsIndex, free_length: typing.SupportsFloat | typing.SupportsIndex, modulus: typing.SupportsFloat | typing.SupportsIndex, yield_strength: typing.SupportsFloat | typing.SupportsIndex, ends: ScrewEnds) -> float:
    ...
def tilted_radial_load(radial: typing.SupportsFloat | typing.SupportsIndex, moment: typing.SupportsFloat | typing.SupportsIndex, pitch_diameter: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def tipping_moments(hull: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], loads: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Moment about each edge of a hull (rows, n); positive: tips over it.
    """
def told_safety(tension: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], shear: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], allowed_tension: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], allowed_shear: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> typing.Any:
    ...
def tooth_foot_stress(force: typing.SupportsFloat | typing.SupportsIndex, face_width: typing.SupportsFloat | typing.SupportsIndex, module: typing.SupportsFloat | typing.SupportsIndex, teeth: typing.SupportsFloat | typing.SupportsIndex, helix: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def wall_slenderness(tube: TubeSection, yield_strength: typing.SupportsFloat | typing.SupportsIndex, elastic_modulus: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def wear_integral(torque_a: typing.SupportsFloat | typing.SupportsIndex, torque_b: typing.SupportsFloat | typing.SupportsIndex, speed_a: typing.SupportsFloat | typing.SupportsIndex, speed_b: typing.SupportsFloat | typing.SupportsIndex, exponent: typing.SupportsFloat | typing.SupportsIndex, time: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def whirling_speed(diameter: typing.SupportsFloat | typing.SupportsIndex, length: typing.SupportsFloat | typing.SupportsIndex, modulus: typing.SupportsFloat | typing.SupportsIndex, density: typing.SupportsFloat | typing.SupportsIndex, ends: ScrewEnds) -> float:
    ...
def winding_loss_factor(phase_resistance: typing.SupportsFloat | typing.SupportsIndex, torque_constant: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
guide_life_holds: float = 0.5
