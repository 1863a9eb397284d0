from dataclasses import replace

import numpy as np
import pytest

import armwright as aw
from armwright.errors import InputError
from armwright.studies.elastic import section_of
from cases.elastic_arms import elastic_arm, soft_rod, stiff_arm


def with_joint(cell, i, **more):
    arm = cell.description.arm
    joints = tuple(replace(joint, **more) if k == i else joint for k, joint in enumerate(arm.joints))
    return aw.Cell.from_description(replace(cell.description, arm=replace(arm, joints=joints)))


def with_link(cell, i, structure):
    arm = cell.description.arm
    links = tuple(replace(link, structure=structure) if k == i else link for k, link in enumerate(arm.links))
    return aw.Cell.from_description(replace(cell.description, arm=replace(arm, links=links)))


def test_causes_and_what_is_missing_are_named():
    elastic = elastic_arm()._subject.elastic
    assert elastic.causes[:2] == ("axis 1: strain wave", "axis 2: strain wave")
    assert dict(zip(elastic.causes, elastic.kinds, strict=True))["axis 1: bearing"] == "bearing"
    assert "upper arm: box" in elastic.causes and "forearm: tube" in elastic.causes
    missing = "\n".join(elastic.not_counted)
    assert "axis 2: bearing pair without axial stiffness, taken as rigid that way" in missing
    assert "axis 4: no bearing described, taken as rigid" in missing
    assert "link 1: no structure described, taken as rigid" in missing
    assert "tool, load, and what the base is bolted to" in missing
    assert "track" not in missing


def test_the_guides_of_a_slide_are_named():
    arm = soft_rod().description.arm
    slide = aw.Joint("slide", "prismatic", axis="x", range=(0, 1))
    cell = aw.Cell(replace(arm, joints=(slide,)))
    assert "slide: its slide's guides, taken as rigid" in cell._subject.elastic.not_counted


def test_nothing_told_is_refused():
    with pytest.raises(InputError, match="nothing that gives way is told"):
        stiff_arm().sag([0.0] * 6)


def test_a_stage_is_referred_through_the_ratios_beyond_it():
    """1/k of the gear at the axis, and 1/(k N²) of the belt before it."""
    cell = soft_rod(axis="y", load=aw.Load(5.0))
    motor = aw.Motor(2.4, 7.2, rated_speed="3000 rpm", max_speed="6000 rpm", rotor_inertia=1e-4)
    stages = (aw.Stage("belt", 3, stiffness=8.0), aw.Stage("gear", -50, stiffness=9000.0))
    sag = with_joint(cell, 0, drive=aw.Drive(motor, stages)).sag([0.0])
    torque = abs(float(cell.gravity_torque([0.0])[0]))
    belt, gear = (sag.sel(cause=f"axis 1: {name}").cause_shift.values[2] for name in ("belt", "gear"))
    assert -gear == pytest.approx(torque / 9000)
    assert -belt == pytest.approx(torque / (8.0 * 50**2))
    shares = sag.cause_share.values
    assert shares.sum() == pytest.approx(1.0)


def test_a_pair_of_bearings_tilts_as_two_springs_at_a_span():
    """k s²/2 against tilting: the tool at L sinks by F L · L / (k s²/2)."""
    cell = with_link(soft_rod(load=aw.Load(5.0)), 0, aw.LinkStiffness(torsion=1e5))
    pair = aw.BearingPair("deep groove", "fixed and floating", span=0.08, fixed="near", radial_stiffness=2e8,
                          axial_stiffness=1e8)  # fmt: skip
    sag = with_joint(cell, 0, bearing=pair).sag([0.0])
    mass = cell.description.arm.links[0].mass
    tilt = 9.80665 * (5.0 + mass / 2) / (2e8 * 0.08**2 / 2)
    drop = 9.80665 * (5.0 + mass) / 1e8  # one of the two bears axially
    assert float(sag.sag_down) == pytest.approx(tilt + drop, rel=1e-6)


def test_preload_makes_both_bearings_bear_axially():
    def axial(preload):
        pair = aw.BearingPair("angular contact", "back to back", span=0.08, radial_stiffness=2e8, axial_stiffness=1e8,
                              preload=preload)  # fmt: skip
        shift = with_joint(soft_rod(), 0, bearing=pair).stiffness([0.0]).compliance.values
        return shift[2, 2]

    bend = soft_rod().stiffness([0.0]).compliance.values[2, 2]
    tilt = 1 / (2e8 * 0.08**2 / 2)
    assert axial(None) - bend - tilt == pytest.approx(1e-8, rel=1e-3)
    assert axial(500.0) - bend - tilt == pytest.approx(0.5e-8, rel=1e-3)


def test_a_link_told_by_stiffness_is_an_even_bar():
    """Bending k = EI/L: a force F at the end lowers it by F L²/(3 k)."""
    cell = with_link(soft_rod(mass=1e-9, load=aw.Load(5.0)), 0, aw.LinkStiffness(bending=4000.0))
    assert float(cell.sag([0.0]).sag_down) == pytest.approx(5 * 9.80665 / (3 * 4000.0), rel=1e-6)
    elastic = cell._subject.elastic
    assert any("without torsion stiffness" in line for line in elastic.not_counted)
    assert elastic.tubes == ()


def test_a_material_of_which_little_is_told():
    tube = aw.Tube("round", 0.05, 0.003, aw.Material("bronze", elastic_modulus=110e9))
    cell = with_link(soft_rod(load=aw.Load(5.0)), 0, tube)
    missing = "\n".join(cell._subject.elastic.not_counted)
    assert "no shear modulus of bronze" in missing and "no density of bronze" in missing
    twist = cell.sag([0.0], moment=(10, 0, 0)).sag_turn.values[0]
    assert twist == pytest.approx(0.0, abs=1e-15)


def test_a_link_told_with_less_than_its_tube_weighs_is_named():
    tube = soft_rod().description.arm.links[0].mass
    for mass, named in ((1e-9, True), (0.5 * tube, True), (tube, False), (2 * tube, False)):
        assert ("alone weighs" in "".join(soft_rod(mass=mass)._subject.elastic.not_counted)) is named
    told = soft_rod(mass=1.0).sag([0.0]).attrs["not_counted"]
    assert "rod: tube alone weighs 3.48 kg by its section, and its link is told with 1 kg, which counts" in told


def test_causes_of_one_name_are_told_apart():
    motor = aw.Motor(2.4, 7.2, rated_speed="3000 rpm", max_speed="6000 rpm", rotor_inertia=1e-4)
    stages = (aw.Stage("belt", 3, stiffness=8.0), aw.Stage("belt", 2, stiffness=90.0, name="bearing"))
    bearing = aw.SlewingBearing("crossed roller", tilting_stiffness=1e5)
    cell = with_joint(soft_rod(), 0, drive=aw.Drive(motor, stages), bearing=bearing)
    assert cell._subject.elastic.causes[:3] == ("axis 1: bearing", "axis 1: belt", "axis 1: bearing (2)")


def test_sections_are_those_described():
    section = section_of(aw.Tube("rectangular", (0.08, 0.12), 0.005, "steel", up="z"))
    assert (section.width, section.height, section.wall) == (0.08, 0.12, 0.005)
    square = section_of(aw.Tube("square", 0.07, 0.004, "steel"))
    assert (square.width, square.height) == (0.07, 0.07)
    assert section_of(aw.Tube("round", 0.07, 0.004, "steel")).shape != square.shape


def test_a_square_tube_stands_square_to_the_joint_axis():
    cell = with_link(soft_rod(axis="y"), 0, aw.Tube("square", 0.05, 0.003, "steel"))
    (_, frame), = cell._subject.elastic.still.tube_frames
    link = np.array(cell._model.link_frames[0])
    assert np.abs(link[:3, :3].T @ frame[:3, 2]) == pytest.approx([0, 1, 0], abs=1e-12)
    assert link[:3, :3].T @ frame[:3, 0] == pytest.approx([1, 0, 0], abs=1e-12)


def test_a_tracks_rails_are_named():
    cell = elastic_arm(track=aw.Track("x", (0, 1)))
    assert any("rails and blocks" in line for line in cell._subject.elastic.not_counted)
    assert any(line.startswith("track: no drive described") for line in cell._subject.elastic.not_counted)
