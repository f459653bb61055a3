"""Links in the words of a lesson: under the hand they pass, chosen they stay."""

from __future__ import annotations

from app.lessons.pointing import Pointing


def test_what_is_chosen_stays_when_the_hand_leaves_and_is_let_go_by_a_second_choice() -> None:
    chosen = Pointing().follow("curve:Copper", chosen=True)
    assert chosen.strong == "Copper"
    over = chosen.follow("part:C1", chosen=False)
    assert over.strong == "C1"
    assert over.follow("", chosen=False).strong == "Copper"
    assert chosen.follow("curve:Copper", chosen=True).strong == ""


def test_a_frequency_moves_the_cursor_only_where_it_is_chosen() -> None:
    over = Pointing().follow("at:5 MHz", chosen=False)
    assert over == Pointing()
    assert over.follow("at:5 MHz", chosen=True) == Pointing(at_hz=5e6)
