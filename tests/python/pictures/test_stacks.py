"""What stands over each other in a plan is told together."""

import numpy as np
import pytest

from armwright.pictures.stacks import stacks, told_together


def test_boxes_that_cover_each_other_are_together_and_neighbours_are_not():
    low = np.array([[0, 0], [5, 5], [0.1, 0], [1.9, 0], [5, 5.2]])
    high = np.array([[2, 1], [6, 6], [1.5, 1], [4, 1], [5.5, 5.5]])
    assert stacks(low, high) == [[0, 2], [1, 4], [3]]  # 3 shares a twentieth with 0


def test_what_is_together_with_one_is_so_with_all():
    low = np.array([[0, 0], [4, 0], [2, 0]])
    assert stacks(low, low + np.array([3, 1]), share=0.3) == [[0, 1, 2]]


def test_boxes_without_a_side_are_together_where_they_touch():
    low = np.array([[1, 1], [1, 1], [2, 2]])
    assert stacks(low, low) == [[0, 1], [2]]
    assert stacks(np.empty((0, 2)), np.empty((0, 2))) == []


@pytest.mark.parametrize(("names", "told"), [
    (["post"], "post"),
    (["kiln roof", "kiln left side"], "kiln: roof, left side"),
    (["rack, shelf 1", "rack, shelf 2"], "rack, shelf: 1, 2"),
    (["post", "tub"], "post, tub"),
    (["shelf", "shelf 2"], "shelf, shelf 2"),
    (["shelf", "shelf"], "shelf, shelf"),
    ([f"beam {i}" for i in range(9)], "beam: 0, 1, 2, 3, 4, 4 others"),
    (["", "post"], ", post"),
])
def test_names_with_the_same_beginning_tell_it_once(names, told):
    assert told_together(names) == told
