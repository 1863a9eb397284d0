"""Pictures of results as PNG, for pages."""

from __future__ import annotations

import io
from typing import Any

import numpy as np

from armwright.report.document import Picture

DOTS = 130  # an inch


def picture(axes: Any, name: str, words: str) -> Picture:
    """The figure of these axes (one, or several of one figure) as a picture; the figure is closed."""
    import matplotlib.pyplot as plt

    first = np.ravel(np.asarray(axes, dtype=object))[0]
    figure: Any = first.figure.canvas.figure
    with io.BytesIO() as stream:
        figure.savefig(stream, format="png", dpi=DOTS, metadata={"Software": None})
        png = stream.getvalue()
    plt.close(figure)  # or pyplot keeps it
    return Picture(name, png, words)
