from __future__ import annotations

import pickle

import numpy as np

import armwright as aw
from armwright.studies.subject import Subject, subject_of
from cases.described import track_cell

CELL = track_cell()


def test_it_travels_as_its_description_and_comes_out_once() -> None:
    subject = Subject(CELL.description)
    assert subject.solids.solid_names  # compiled things do not go along
    data = pickle.dumps(subject)
    assert len(data) < 1.05 * len(pickle.dumps(CELL.description)) + 200
    one, other = pickle.loads(data), pickle.loads(data)
    assert one is other is subject_of(CELL.description) and one is not subject
    assert one.description == CELL.description and list(one.model.joint_names) == list(CELL.joint_names)


def test_solids_with_what_is_carried() -> None:
    box = aw.Load("1 kg", shapes=(aw.Box((0.2, 0.2, 0.2), name="crate"),))
    subject = Subject(track_cell(load=box).description)
    assert "crate" in subject.solids.solid_names
    for load in (None, aw.Load("3 kg"), box):
        assert subject.solids_with(load) is subject.solids
    assert subject.solids_carrying(box) is subject.solids
    bare = subject.solids_carrying(None)
    assert "crate" not in bare.solid_names and subject.solids_carrying(None) is bare
    other = aw.Load("1 kg", shapes=(aw.Sphere(0.1, name="ball"),))
    assert "ball" in subject.solids_with(other).solid_names
    assert subject.solids_with(other) is subject.solids_with(other)


def test_a_tool_of_fewer_freedoms_has_a_model_that_turns_freely() -> None:
    described = CELL.description.arm
    assert Subject(CELL.description).loose is None
    few = aw.Cell(aw.ArmDescription(described.joints[:4], described.links[:4], "few"))
    loose = Subject(few.description).loose
    assert loose is not None and np.allclose(loose.tool[:3, 3], Subject(few.description).model.tool[:3, 3])
