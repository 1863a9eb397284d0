from __future__ import annotations

from pathlib import Path

from armwright.report import caution_line, cautions

README = Path(__file__).parents[3] / "README.md"


def test_what_can_hurt_is_named() -> None:
    """The dangers that the design says are told with every result, by the words for each."""
    line = caution_line()
    for words in (
        "calculation from what was typed in", "enough force to kill", "guard it", "reduced speed",
        "brakes and hard stops", "rated gear", "protective earth", "fusing", "local codes", "licensed",
        "risk assessment",
    ):  # fmt: skip
        assert words in line, words


def test_all_stand_in_one_line_in_their_order() -> None:
    line = caution_line()
    assert line.startswith("Caution: ") and "\n" not in line
    places = [line.index(caution) for caution in cautions]
    assert places == sorted(places)
    assert all(caution.endswith(".") for caution in cautions)
