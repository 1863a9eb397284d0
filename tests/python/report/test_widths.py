"""Columns of a printed table: none wider than it needs, all together no wider than the page, no word broken early."""

from __future__ import annotations

import pytest

from armwright.report.widths import PAGE, Words, widths


def words(*broken: str, head: str = "", whole: tuple[str, ...] = ()) -> Words:
    return Words(head, whole, broken)


def test_a_small_table_is_as_wide_as_its_words() -> None:
    narrow, wide = widths([words("ab"), words("a sentence of some length")])
    assert narrow < 3 and 12 < wide < 20 and narrow + wide < PAGE / 2


def test_long_sentences_give_way_and_single_words_and_numbers_do_not() -> None:
    sentence = " ".join(["loaded"] * 40)
    first, number, last = widths([words("crossed-roller"), words(whole=("14 496 N",)), words(sentence)])
    assert first > 14 * 0.5 and number > 8 * 0.5 and first + number + last == pytest.approx(PAGE, abs=0.1)
    both = widths([words(sentence), words(sentence)])
    assert both[0] == pytest.approx(both[1]) and sum(both) == pytest.approx(PAGE, abs=0.1)


def test_what_fits_in_no_way_shares_the_page() -> None:
    many = widths([words("x" * 20) for _ in range(12)])
    assert sum(many) == pytest.approx(PAGE, abs=0.2) and len(set(many)) == 1


def test_a_head_goes_over_three_lines_at_most_where_there_is_room() -> None:
    (width,) = widths([words("1", head="continuous torque allowed by the motor")])
    assert width * 3 > 0.6 * len("continuous torque allowed by the motor")
    assert widths([words("")])[0] < 2
