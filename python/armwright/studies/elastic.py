"""What gives way in an arm, from its description: the core's elastic chains, the causes by name, and what is missing.

What is missing counts as rigid, and is named.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from armwright import _core
from armwright.errors import InputError
from armwright.studies.subject import Subject

_POISSON = 0.3  # for the shape of shear in a section, where no shear modulus is told
_PIECES = 2  # of a beam that shakes: the first mode of a cantilever is 0.05 % high
_HEAVIER = 1.02  # than its link: a tube's mass by its section beside the one told; less is rounding
NO_STRESS = "only its stiffness is told, which tells no stress"
ALWAYS_RIGID = "tool, load, and what the base is bolted to: taken as rigid"


@dataclass(frozen=True)
class Tube:
    """A tube as its stress needs it. ``span``: its place among the chain's tubes; ``grips``: shares of its length at
    which counterbalances take hold between its ends."""

    name: str
    link: str
    span: int
    section: _core.elements.TubeSection
    poisson: float
    elastic_modulus: float
    yield_strength: float | None
    weld_share: float | None
    wanted: float | None
    grips: tuple[float, ...]


@dataclass
class Elastic:
    """``still``: for statics; ``shaken``: the same, cut finer, for vibration. ``kinds``: "stage", "bearing" or "link",
    one a cause. ``not_counted``: what counts as rigid because nothing is told of it."""

    still: _core.dynamics.ElasticChain
    shaken: _core.dynamics.ElasticChain
    causes: tuple[str, ...]
    kinds: tuple[str, ...]
    tubes: tuple[Tube, ...]
    not_counted: tuple[str, ...]


@dataclass
class _Parts:
    """What has been found so far."""

    causes: list[str] = field(default_factory=list)
    kinds: list[str] = field(default_factory=list)
    missing: list[str] = field(default_factory=list)
    stages: list[_core.dynamics.StageSpring] = field(default_factory=list)
    springs: list[_core.dynamics.RoundSpring] = field(default_factory=list)
    beams: list[_core.dynamics.LinkBeam] = field(default_factory=list)
    tubes: list[Tube] = field(default_factory=list)

    def cause(self, name: str, kind: str) -> int:
        """A cause of that name; told apart by number where another has it."""
        same = sum(known == name or known.startswith(f"{name} (") for known in self.causes)
        self.causes.append(f"{name} ({same + 1})" if same else name)
        self.kinds.append(kind)
        return len(self.causes) - 1


def elastic_of(subject: Subject) -> Elastic:
    """See Elastic. Refused where nothing that gives way is told."""
    parts = _Parts()
    arm, spec = subject.description.arm, subject.spec
    drives = [joint.drive for joint in spec.arm.joints]
    if spec.track is not None:
        drives.insert(0, spec.track.drive)
    for axis, drive in enumerate(drives):
        _add_stages(parts, axis, subject.model.joint_names[axis], drive)
    for i, joint in enumerate(arm.joints):
        _add_bearing(parts, i, joint)
    for link in range(-1, len(arm.links)):
        _add_link(parts, arm, link)
    if spec.track is not None:
        parts.missing.append("the track's rails and blocks: taken as rigid")
    parts.missing.append(ALWAYS_RIGID)
    if not parts.causes:
        raise InputError.of(
            "cell", "nothing that gives way is told", "a stiffness of a stage or a bearing, or a link's structure"
        )
    still, shaken = (_chain(subject, parts, pieces) for pieces in (1, _PIECES))
    return Elastic(
        still, shaken, tuple(parts.causes), tuple(parts.kinds), tuple(parts.tubes), tuple(parts.missing)
    )


def _chain(subject: Subject, parts: _Parts, pieces: int) -> _core.dynamics.ElasticChain:
    elastic = _core.dynamics.ElasticSpec()
    elastic.stages, elastic.springs, elastic.beams = parts.stages, parts.springs, parts.beams
    elastic.causes, elastic.pieces = parts.causes, pieces
    return _core.dynamics.elastic_chain(subject.spec, subject.model, elastic)


def _add_stages(parts: _Parts, axis: int, joint: str, drive: Any) -> None:
    if drive is None:
        parts.missing.append(f"{joint}: no drive described, its windup not counted")
        return
    beyond = 1.0  # turns of the stage's output a turn of the axis
    for stage in reversed(drive.stages):
        if math.isfinite(stage.stiffness):
            spring = _core.dynamics.StageSpring()
            spring.axis = axis
            spring.compliance = _core.dynamics.referred_compliance(stage.stiffness, beyond)
            spring.cause = parts.cause(f"{joint}: {stage.name}", "stage")
            parts.stages.append(spring)
        else:
            parts.missing.append(f"{joint}: {stage.name} without a stiffness, taken as rigid")
        beyond *= stage.ratio


def _add_bearing(parts: _Parts, link: int, joint: Any) -> None:
    bearing = joint.bearing
    if bearing is None:
        what = "its slide's guides" if joint.kind == "prismatic" else "no bearing described"
        parts.missing.append(f"{joint.name}: {what}, taken as rigid")
        return
    told: dict[str, Any] = _pair(bearing) if hasattr(bearing, "arrangement") else {
        "tilting": bearing.tilting_stiffness, "radial": bearing.radial_stiffness, "axial": bearing.axial_stiffness,
    }  # fmt: skip
    missing = [word for word, stiffness in told.items() if stiffness is None]
    if missing:
        words = " and ".join(missing)
        parts.missing.append(f"{joint.name}: {bearing.name} without {words} stiffness, taken as rigid that way")
    if len(missing) == len(told):
        return
    spring = _core.dynamics.RoundSpring()
    spring.link, spring.axis = link, np.asarray(joint.axis, dtype=np.float64)
    spring.point = float(bearing.offset) * spring.axis
    spring.tilt, spring.across, spring.along = (
        0.0 if told[word] is None else 1 / float(told[word]) for word in ("tilting", "radial", "axial")
    )
    spring.cause = parts.cause(f"{joint.name}: {bearing.name}", "bearing")
    parts.springs.append(spring)


def _pair(pair: Any) -> dict[str, float | None]:
    """Two bearings at a span as one: radial springs side by side, which at half the span each hold tilting; both hold
    axially where they are preloaded against each other, else the one that is pressed."""
    radial, span = pair.radial_stiffness, pair.effective_span
    both = 2.0 if (pair.preload or 0.0) > 0 and pair.arrangement != "fixed and floating" else 1.0
    return {
        "tilting": None if radial is None or span is None else float(radial) * span**2 / 2,
        "radial": None if radial is None else 2 * float(radial),
        "axial": None if pair.axial_stiffness is None else both * float(pair.axial_stiffness),
    }


def _add_link(parts: _Parts, arm: Any, link: int) -> None:
    described = arm.base_link if link < 0 else arm.links[link]
    structure = described.structure
    if structure is None:
        parts.missing.append(f"{described.name}: no structure described, taken as rigid")
        return
    beam = _core.dynamics.LinkBeam()
    beam.link = link
    beam.start, beam.end = (np.asarray(end, dtype=np.float64) for end in arm.structure_line(link))
    name = f"{described.name}: {structure.name}"
    if hasattr(structure, "section"):
        _fill_tube(parts, beam, arm, link, structure, name)
    else:
        _fill_stiffness(parts, beam, structure, name)
    beam.cause = parts.cause(name, "link")
    parts.beams.append(beam)


def _fill_stiffness(parts: _Parts, beam: _core.dynamics.LinkBeam, structure: Any, name: str) -> None:
    """An even bar of that stiffness from start to end."""
    length = float(np.linalg.norm(beam.end - beam.start))
    bar = _core.elements.Beam()
    for key in ("along", "shear_y", "shear_z", "bending_y", "bending_z", "torsion"):
        setattr(bar, key, math.inf)
    for word in ("bending", "torsion"):
        told = getattr(structure, word)
        if told is None:
            parts.missing.append(f"{name} without {word} stiffness, taken as rigid that way")
        elif word == "bending":
            bar.bending_y = bar.bending_z = float(told) * length
        else:
            bar.torsion = float(told) * length
    parts.missing.append(f"{name}: {NO_STRESS}")
    beam.beam = bar


def section_of(structure: Any) -> _core.elements.TubeSection:
    """A described tube's section; corners count as sharp."""
    section = _core.elements.TubeSection()
    shapes = _core.elements.TubeShape
    section.shape = shapes.round if structure.section == "round" else shapes.rectangular
    sizes = structure.outer if isinstance(structure.outer, tuple) else (structure.outer, structure.outer)
    section.width, section.height = map(float, sizes)
    section.wall = float(structure.wall)
    return section


def _fill_tube(
    parts: _Parts, beam: _core.dynamics.LinkBeam, arm: Any, link: int, structure: Any, name: str
) -> None:
    material, section = structure.material, section_of(structure)
    elastic, shear = float(material.elastic_modulus), material.shear_modulus
    poisson = _POISSON if shear is None else elastic / (2 * float(shear)) - 1
    numbers = _core.elements.section_numbers(section, poisson)
    bar = _core.elements.Beam()
    bar.along, bar.bending_y, bar.bending_z = (
        elastic * value for value in (numbers.area, numbers.moment_y, numbers.moment_z)
    )
    rigid = math.inf if shear is None else float(shear)
    bar.torsion, bar.shear_y, bar.shear_z = (
        rigid * value for value in (numbers.torsion, numbers.shear_area_y, numbers.shear_area_z)
    )
    if shear is None:
        parts.missing.append(f"{name}: no shear modulus of {material.name}, so rigid in twist and shear")
    if material.density is None:
        parts.missing.append(f"{name}: no density of {material.name}, so its weight counts at the link's centre of "
                             "gravity alone")  # fmt: skip
    else:
        density = float(material.density)
        beam.mass = density * numbers.area
        beam.spin_y, beam.spin_z = density * numbers.moment_y, density * numbers.moment_z
        beam.spin_x = beam.spin_y + beam.spin_z
        _compare_mass(parts, beam, arm, link, name)
    beam.beam, beam.up = bar, _up(arm, link, structure)
    wanted, strength = structure.safety, material.yield_strength
    parts.tubes.append(Tube(
        structure.name, arm.link_names[link + 1], len(parts.beams), section, poisson, elastic,
        None if strength is None else float(strength), structure.weld_share, None if wanted is None else float(wanted),
        _grips(arm, link, beam),
    ))  # fmt: skip


def _grips(arm: Any, link: int, beam: _core.dynamics.LinkBeam) -> tuple[float, ...]:
    """Where springs take hold of a link's tube between its ends, as shares of its length."""
    name, way = arm.link_names[link + 1], beam.end - beam.start
    held = [point for item in arm.counterbalances if item.kind != "mass"
            for on, point in ((item.link_a, item.point_a), (item.link_b, item.point_b)) if on == name]  # fmt: skip
    shares = {float((np.asarray(point) - beam.start) @ way / (way @ way)) for point in held}
    return tuple(sorted(share for share in shares if 0 < share < 1))


def _compare_mass(parts: _Parts, beam: _core.dynamics.LinkBeam, arm: Any, link: int, name: str) -> None:
    """Names a link of which less mass is told than its tube alone has: the told one counts, and may be forgotten."""
    told = float((arm.base_link if link < 0 else arm.links[link]).mass)
    tube = beam.mass * float(np.linalg.norm(beam.end - beam.start))
    if tube > _HEAVIER * told:
        parts.missing.append(f"{name} alone weighs {tube:.3g} kg by its section, and its link is told with {told:.3g} "
                             "kg, which counts")  # fmt: skip


def _up(arm: Any, link: int, structure: Any) -> Any:
    """Where the section's height points. A square tube's sides are taken square to the joint's axis, where it does not
    lie along the tube; else to the next joint's."""
    if structure.up is not None:
        return np.asarray(structure.up, dtype=np.float64)
    start, end = arm.structure_line(link)
    way = (end - start) / np.linalg.norm(end - start)
    hints = [np.asarray(arm.joints[link].axis)] if link >= 0 else []
    if link + 1 < len(arm.joints):
        following = arm.joints[link + 1]
        hints.append(following.placement[:3, :3] @ following.axis)
    hints += [np.array([0.0, 0.0, 1.0]), np.array([0.0, 1.0, 0.0])]
    return next(hint for hint in hints if np.linalg.norm(np.cross(hint, way)) > 0.1).astype(np.float64)
