"""Random edits, undos and redos in one window: nothing raised, nothing kept, and the way back to the first document.

`python -m tests.window.test_robust 10000` makes as many as told, and prints how much memory they took.
"""

from __future__ import annotations

import math
import random
import sys
from collections.abc import Callable

from PySide6.QtWidgets import QApplication

from app.qt.start import application, main_window
from app.qt.theme import Theme
from app.qt.window import MainWindow
from app.state import edits
from app.state.store import MOST_STEPS
from app.state.usual import BRIDGES, PARTS
from models.decide.parameters import network_parameters

_MOST_CANDIDATES = 6
_MODES = ("waveform", "spectrum", "conducted", "radiated", "event")


class Hand:
    """Does one random thing after the other to a window, and counts the edits that went in."""

    def __init__(self, window: MainWindow, seed: int) -> None:
        self.window = window
        self.chance = random.Random(seed)
        self._deeds: tuple[Callable[[], object], ...] = (
            *[self._drag] * 6,
            *[self.window.session.store.undo] * 3,
            *[self.window.session.store.redo] * 2,
            self._add_candidate,
            self._remove_candidate,
            self._add_part,
            self._duplicate,
            self._look,
            self._type_nonsense,
        )

    def act(self, count: int) -> None:
        """Do so many things, each shown before the next."""
        for _ in range(count):
            self.chance.choice(self._deeds)()
            self.window.session.timer.flush()
            QApplication.processEvents()

    def _candidate(self) -> int:
        return self.chance.randrange(len(self.window.session.case.candidates))

    def _drag(self) -> None:
        session = self.window.session
        if not session.case.candidates:
            return
        index = self._candidate()
        free = network_parameters(session.case, session.case.candidates[index])
        one = self.chance.choice(free)
        if not 0.0 < one.value < math.inf:
            return
        path = ("candidates", index, *one.path) if one.of_candidate else one.path
        for _ in range(self.chance.randint(1, 3)):
            session.drag(path, one.value * self.chance.uniform(0.5, 2.0))
        session.end_drag()

    def _add_candidate(self) -> None:
        if len(self.window.session.case.candidates) < _MOST_CANDIDATES:
            self.window.bridges.add(self.chance.choice(BRIDGES))

    def _remove_candidate(self) -> None:
        session = self.window.session
        if session.case.candidates:
            index = self._candidate()
            session.change("Remove", lambda case: edits.remove_at(case, ("candidates", index)))

    def _add_part(self) -> None:
        session, part = self.window.session, self.chance.choice(list(PARTS.values()))
        if session.case.candidates:
            index = self._candidate()
            if len(session.case.candidates[index].branches) < 4:
                session.change("Add branch", lambda case: edits.add_branch(case, index, part))

    def _duplicate(self) -> None:
        if 0 < len(self.window.session.case.candidates) < _MOST_CANDIDATES:
            self.window.bridges.run("duplicate")

    def _look(self) -> None:
        session = self.window.session
        session.views.change(
            cursor_hz=10.0 ** self.chance.uniform(3.0, 8.5),
            mode=self.chance.choice(_MODES),
            z_shows=self.chance.choice(("magnitude", "phase", "resistance", "reactance")),
            bridge_alone=self.chance.random() < 0.3,
        )
        if session.case.candidates:
            self.window.bridges.select(self._candidate())

    def _type_nonsense(self) -> None:
        self.window.session.type(("pair", "a"), self.chance.choice(("", "earth", "primary", "x" * 300)))


def undo_all(window: MainWindow) -> None:
    """Undo to the start."""
    for _ in range(MOST_STEPS + 1):
        if window.session.store.undo_name is None:
            break
        window.session.store.undo()
    window.session.timer.flush()


def memory_mb() -> float:
    """Return the memory that the process holds now, MB."""
    with open("/proc/self/statm", encoding="ascii") as statm:
        return int(statm.read().split()[1]) * 4096 / 1e6


def test_random_edits_undos_and_redos_come_back_to_the_first_document(qapp: QApplication, theme: Theme) -> None:
    window = main_window(None)
    window.show()
    first = window.session.case
    hand = Hand(window, 1)
    hand.act(120)
    undo_all(window)
    assert window.session.case == first
    assert not window.session.store.changed
    window.close()
    window.deleteLater()


def _campaign(count: int) -> None:
    application()
    window = main_window(None)
    window.show()
    first, hand = window.session.case, Hand(window, 11)
    hand.act(300)
    before = memory_mb()
    hand.act(count)
    print(f"{count} deeds, memory {memory_mb() - before:+.1f} MB after the first 300")
    undo_all(window)
    print("undo to the start:", "the first document" if window.session.case == first else "another document")
    window.session.store.mark_saved()
    window.close()


if __name__ == "__main__":
    _campaign(int(sys.argv[1]))
