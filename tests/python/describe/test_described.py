from __future__ import annotations

import copy
import pickle

import numpy as np
import pytest

from armwright.describe import Box, Capsule, CellDescription, ConvexHull, Load, Mesh, Target, Tool, Track
from armwright.describe.described import Checks, Described
from armwright.errors import InputError
from cases.borne import PARTS
from cases.description_files import small_arm, tetrahedron

OBJECTS: list[Described] = [
    Box((1, 2, 3), (0, 0, 1), "post"),
    Mesh(tetrahedron(), name="wedge"),
    ConvexHull(tetrahedron()[0]),
    Track("x", "2.4 m"),
    Tool((0, 0, 0.1), "1.2 kg ± 5 %"),
    Load("6 kg"),
    Target.pointing((1, 0, 1)),
    small_arm(),
    CellDescription(small_arm(), Track("x", 2), [Box((1, 1, 1))]),
    *PARTS,
]


@pytest.mark.parametrize("thing", OBJECTS, ids=lambda thing: type(thing).__name__)
def test_copies_are_equal(thing: Described) -> None:
    for same in (copy.copy(thing), copy.deepcopy(thing), pickle.loads(pickle.dumps(thing))):
        assert same == thing
        assert hash(same) == hash(thing)
        assert same.digest() == thing.digest()
        assert repr(same) == repr(thing)
    assert "\n" not in repr(thing)
    assert thing != "something else"


def test_content_counts_and_nothing_else() -> None:
    assert Box((1, 2, 3)) == Box(("1 m", "2 m", "3000 mm"))
    assert Box((1, 2, 3)) != Box((1, 2, 3.0000001))
    assert Box((1, 2, 3), (0, 0, 0.0)) == Box((1, 2, 3), (0, 0, -0.0))
    assert Box((1, 2, 3), name="a") != Box((1, 2, 3), name="b")
    assert Load("6 kg") != Load("6 kg ± 10 %")
    assert Capsule(1, 2).digest() != Box((1, 2, 3)).digest()


def test_constant() -> None:
    box = Box((1, 2, 3))
    with pytest.raises(AttributeError):
        box.name = "other"  # type: ignore[misc]
    for same in (box, pickle.loads(pickle.dumps(box))):
        with pytest.raises(ValueError, match="read-only"):
            same.size[0] = 5
        with pytest.raises(ValueError, match="read-only"):
            same.pose[0, 3] = 5


def test_digest_stays() -> None:
    """The canonical form is part of stored results: a change of it must be meant."""
    assert Box((1, 2, 3)).digest() == Box(np.array((1, 2, 3))).digest()
    assert len(Box((1, 2, 3)).digest()) == 64


def test_all_problems_at_once() -> None:
    checks = Checks("Thing")
    checks.wrong("a", 1, "2")
    assert checks.take("b", lambda key, value: value, 3, 0) == 3
    with pytest.raises(InputError, match=r"^Thing.a: got 1, expected 2$"):
        checks.done()
    with pytest.raises(InputError) as caught:
        Box((1, -1, 2), np.diag([1, 1, -1, 1.0]), "")
    assert [p.key for p in caught.value.problems] == ["Box.size", "Box.pose", "Box.name"]
