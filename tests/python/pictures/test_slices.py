import numpy as np

from armwright.pictures.slices import connected, deepest_cell, without_islands


def test_islands_take_the_code_around_them():
    codes = np.full((9, 9), 1)
    codes[:, :2] = -1  # nothing is reached there
    codes[:, 7:] = 2
    codes[4, 4] = 3
    codes[0, 2] = 0  # at the rim of what is reached, and of the picture
    cleaned = without_islands(codes, 4)
    expected = np.full((9, 9), 1)
    expected[:, :2], expected[:, 7:] = -1, 2
    assert (cleaned == expected).all()
    assert codes[4, 4] == 3, "what is given stays as it is"


def test_large_parts_and_lone_ones_stay():
    codes = np.full((6, 6), -1)
    codes[1, 1] = 2  # alone: no neighbour has a code
    codes[3:, 3:] = 1
    assert (without_islands(codes, 9) == codes).all()


def test_connected_parts_come_largest_first():
    mask = np.zeros((4, 5), dtype=bool)
    mask[0, 0] = mask[2:, 2:] = True
    sizes = [int(part.sum()) for part in connected(mask)]
    assert sizes == [6, 1]


def test_the_deepest_cell_is_in_the_middle():
    mask = np.zeros((7, 7), dtype=bool)
    mask[1:6, 1:6] = True
    assert deepest_cell(mask) == (3, 3, 3)
