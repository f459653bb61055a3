from __future__ import annotations

import pytest

from app.lessons.text import as_html, filled, held_together, links_in, names_in, plain, sections

TEXT = """
# dc
How **many** ohms?

## why
Only {dc}.
## if high
No.
# end
"""


def test_sections_are_named_by_their_step() -> None:
    found = {each.name: (each.words, each.line) for each in sections(TEXT)}
    assert found["dc"] == ("How **many** ohms?", 2)
    assert found["dc/why"] == ("Only {dc}.", 5)
    assert found["dc/if high"] == ("No.", 7)
    assert found["end"] == ("", 9)


def test_numbers_go_into_their_places() -> None:
    assert names_in("{a} and {b_2}, not {B}") == ("a", "b_2")
    assert filled("{a} of {a}", lambda name: name.upper()) == "A of A"


def test_markdown_becomes_html_and_nothing_else_does() -> None:
    html = as_html("One **bold** <b>\nline & *more*.\n\n- first\nand on\n- second")
    assert html == (
        "<p>One <b>bold</b> &lt;b&gt; line &amp; <i>more</i>.</p><ul><li>first and on</li><li>second</li></ul>"
    )


def test_links_point_at_curves_and_frequencies_or_are_left_out() -> None:
    text = "the [bead](curve:Bead 600 Ω) at [1 MHz](at:1 MHz)"
    assert links_in(text) == (("curve", "Bead 600 Ω"), ("at", "1 MHz"))
    assert '<a href="curve:Bead 600 Ω">bead</a>' in as_html(text)
    assert as_html(text, links=False) == "<p>the bead at 1\u00a0MHz</p>"
    assert '<a href="at:1 MHz">1\u00a0MHz</a>' in as_html(text)
    assert plain(text) == "the bead at 1 MHz"
    assert plain("**told\nat length**, *and\nleaning*") == "told at length, and leaning"


@pytest.mark.parametrize(
    ("text", "together"),
    [
        ("from 5.1 kV to 120 mV", "from 5.1\u00a0kV to 120\u00a0mV"),
        ("37 % at 2 Ω.", "37\u00a0% at 2\u00a0Ω."),
        ("about 3 Hours, 4 more, 8 mains", "about 3 Hours, 4 more, 8 mains"),
        ("54 dBµV within 5 mm", "54\u00a0dBµV within 5\u00a0mm"),
        ("a Y-capacitor, high-capacity", "a Y\u2011capacitor, high-capacity"),
        ('<a href="curve:Y-capacitor">Y-capacitor</a>', '<a href="curve:Y-capacitor">Y\u2011capacitor</a>'),
    ],
)
def test_no_line_ends_between_a_number_and_its_unit(text: str, together: str) -> None:
    assert held_together(text) == together
