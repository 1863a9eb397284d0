"""An answer that follows sliders, in a notebook."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Callable
from html import escape
from importlib import import_module
from io import BytesIO
from typing import TYPE_CHECKING, Any

from armwright.errors import InputError

if TYPE_CHECKING:
    from matplotlib.axes import Axes

Answer = Callable[..., "str | tuple[str, Axes]"]


def live(answer: Answer, /, **sliders: Any) -> Any:
    """Sliders with an answer below that follows them while they move: the last thing of a notebook's cell.

    ``sliders``: each a widget of ipywidgets, or (least, greatest, first value) of numbers. ``answer`` is called with
    their values by name and gives words, or words and the axes of a picture. What it refuses (InputError) stands in
    place of the words. Gives an ipywidgets VBox, whose children are the sliders and then the answer, an HTML widget;
    a slider's ``value`` can be set by a program as well. Needs ipywidgets: pip install armwright[notebook].

    >>> def held(axis_2):
    ...     return f"{float(arm.payload([0, np.radians(axis_2), 0, 0, 0.5, 0]).mass):.1f} kg"
    >>> box = pictures.live(held, axis_2=(-60, 110, 0))
    >>> box.children[0].value = 90
    >>> box.children[-1].value
    '<pre>32.9 kg</pre>'
    """
    try:
        widgets: Any = import_module("ipywidgets")
    except ImportError:
        raise InputError.of("sliders", "ipywidgets is not there", "pip install armwright[notebook]") from None

    moved = {name: given if hasattr(given, "observe") else _slider(widgets, name, given)
             for name, given in sliders.items()}  # fmt: skip
    shown = widgets.HTML()

    def follow(_: Any = None) -> None:
        try:
            told = answer(**{name: slider.value for name, slider in moved.items()})
        except InputError as refused:
            told = str(refused)
        words, ax = (told, None) if isinstance(told, str) else told
        shown.value = ("" if ax is None else _image(ax, words)) + f"<pre>{escape(words)}</pre>"

    for slider in moved.values():
        slider.observe(follow, "value")
    follow()
    return widgets.VBox([*moved.values(), shown])


def _slider(widgets: Any, name: str, given: Any) -> Any:
    try:
        least, greatest, first = (float(number) for number in given)
    except (TypeError, ValueError):
        least = greatest = first = float("nan")
    if not least <= first <= greatest or least == greatest:
        raise InputError.of(f"sliders.{name}", repr(given), "a widget, or (least, greatest, first value) of numbers")
    step = (greatest - least) / 200
    return widgets.FloatSlider(
        first, min=least, max=greatest, step=step, description=name.replace("_", " "), readout_format=".3g",
    )  # fmt: skip


def _image(ax: Axes, words: str) -> str:
    import matplotlib.pyplot as plt

    figure: Any = ax.figure
    written = BytesIO()
    figure.savefig(written, format="png")
    plt.close(figure)
    data = b64encode(written.getvalue()).decode()
    return f'<img alt="{escape(words)}" style="max-width: 100%" src="data:image/png;base64,{data}">'
