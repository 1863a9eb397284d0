"""Words beside points: none over another, none over a marker, none off the axes while there is room."""

from itertools import pairwise

import matplotlib.pyplot as plt
import numpy as np
import pytest

from armwright.pictures.labels import Label, drop_overlapping, place_labels

POINTS = [(0.2, 0.2), (0.21, 0.2), (0.2, 0.22), (0.5, 0.5), (0.99, 0.99), (0.01, 0.5), (0.5, 0.01)]


@pytest.fixture
def square():
    ax = plt.subplots(figsize=(6, 6), dpi=100)[1]
    ax.set_xlim(0, 1)
    ax.set_ylim(0, 1)
    return ax


def extents(texts):
    return [text.get_window_extent() for text in texts]


def overlap(a, b):
    return min(a.x1, b.x1) - max(a.x0, b.x0) > 0.01 and min(a.y1, b.y1) - max(a.y0, b.y0) > 0.01


def test_every_label_is_written_apart_from_the_others_and_within_the_axes(square):
    texts = place_labels(square, [Label(f"point {i}", at) for i, at in enumerate(POINTS)], POINTS)
    assert [text.get_text() for text in texts] == [f"point {i}" for i in range(len(POINTS))]
    boxes, frame = extents(texts), square.get_window_extent()
    assert not any(overlap(a, b) for i, a in enumerate(boxes) for b in boxes[:i])
    for box in boxes:
        assert frame.x0 <= box.x0 and box.x1 <= frame.x1 and frame.y0 <= box.y0 and box.y1 <= frame.y1
        for x, y in square.transData.transform(POINTS):
            assert not (box.x0 < x < box.x1 and box.y0 < y < box.y1)


def test_a_label_stands_beside_its_point_and_a_centred_one_on_it(square):
    beside, on = place_labels(square, [Label("beside", (0.2, 0.5)), Label("on it", (0.7, 0.5), centred=True)])
    (x, y), (u, v) = square.transData.transform([(0.2, 0.5), (0.7, 0.5)])
    box = beside.get_window_extent()
    assert box.x0 > x and (box.y0 + box.y1) / 2 == pytest.approx(y, abs=1)  # to the right, at its height
    box = on.get_window_extent()
    assert ((box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2) == pytest.approx((u, v), abs=1)


def test_only_a_label_far_off_has_a_line_to_its_point(square):
    place_labels(square, [Label("alone", (0.2, 0.5))])
    assert not square.lines
    crowd = [Label(f"many words in one place {i}", (0.7, 0.5)) for i in range(12)]
    texts = place_labels(square, crowd)
    leaders = [line for line in square.lines if line.get_gid() == "leader"]
    assert 0 < len(leaders) < len(texts)
    for line in leaders:
        assert (line.get_xdata()[0], line.get_ydata()[0]) == (0.7, 0.5)
        ends = square.transData.transform((line.get_xdata()[1], line.get_ydata()[1]))
        # it ends at the edge of one of the texts
        gaps = [np.hypot(max(b.x0 - ends[0], 0, ends[0] - b.x1), max(b.y0 - ends[1], 0, ends[1] - b.y1))
                for b in extents(texts)]  # fmt: skip
        assert min(gaps) < 3


def test_words_that_would_run_into_others_are_taken_away(square):
    keep = square.text(0.5, 0.5, "kept")
    words = [square.text(x, y, "word") for x, y in ((0.1, 0.1), (0.11, 0.1), (0.5, 0.5), (0.8, 0.8))]
    drop_overlapping(square, words, [keep])
    assert [text in square.texts for text in words] == [True, False, False, True]
    assert keep in square.texts


def test_a_block_stands_together_below_each_other_and_apart_from_the_rest(square):
    words = ["the highest", "the middle one,\nin two lines", "low"]
    block = [Label(line, (0.5, 0.5 + 0.001 * i)) for i, line in enumerate(words)]
    labels = [Label("first", (0.5, 0.5)), block, Label("last", (0.5, 0.51))]
    single, *together, other = place_labels(square, labels, [(0.5, 0.5)])
    assert [text.get_text() for text in together] == words
    boxes = extents(together)
    assert {round(box.x0) for box in boxes} == {round(boxes[0].x0)}
    for above, below in pairwise(boxes):
        assert 0 <= above.y0 - below.y1 < 8
    around = square.transData.transform((0.5, 0.5))
    for text in (single, other):
        assert not any(overlap(text.get_window_extent(), box) for box in boxes)
    assert not any(box.x0 < around[0] < box.x1 and box.y0 < around[1] < box.y1 for box in boxes)
