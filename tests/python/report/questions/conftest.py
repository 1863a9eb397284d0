from __future__ import annotations

from collections.abc import Iterator

import matplotlib
import pytest

matplotlib.use("Agg")


@pytest.fixture(autouse=True)
def _no_figure_is_left() -> Iterator[None]:
    import matplotlib.pyplot as plt

    before = plt.get_fignums()
    yield
    assert plt.get_fignums() == before
