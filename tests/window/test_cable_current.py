"""The current along a cable, chosen in the card; and beads biased by the load, chosen in the inspector."""

from __future__ import annotations

import pytest
from attrs import evolve

from app.qt.consequences import Consequences
from app.qt.session import Session
from models.assets import CASES
from models.case.document import Case
from models.case.read import load_case
from tests.window.card_hands import mode_button, pick, settle

SUPPLY = load_case(CASES / "earthed-or-floating.toml")
(LEAD,) = SUPPLY.cables
TWO = evolve(SUPPLY, cables=(LEAD, evolve(LEAD, name="probe lead", region="output", far_end="open")))


@pytest.fixture
def case() -> Case:
    return TWO


def test_a_cable_is_chosen_and_followed_along_the_cursor(card: Consequences, session: Session) -> None:
    mode_button(card, "radiated").click()
    settle(session)
    pick(card, session, "Shown", "current along a cable")
    assert card.accessibleName() == "Current along mains lead"
    shown = card.plot.sheet().spec
    assert shown.x.unit == "m"
    assert len(shown.curves) == 4
    session.views.change(cursor_hz=200e6)
    settle(session)
    assert card.plot.sheet().spec.subtitle != shown.subtitle
    pick(card, session, "Cable", "probe lead")
    assert card.accessibleName() == "Current along probe lead"
    pick(card, session, "Shown", "field")
    assert card.accessibleName().startswith("Radiated field")


def test_the_load_biases_the_beads_by_a_choice_that_is_undone(session: Session) -> None:
    session.type(("bead_bias",), "load")
    assert session.case.bead_bias == "load"
    session.store.undo()
    assert session.case.bead_bias == "stated"
