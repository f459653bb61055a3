"""Impedance: the card that shows |Z|, phase, R or X of every candidate, alone or with all that stands around it."""

from __future__ import annotations

from attrs import evolve
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from app.present.impedance_plot import impedance_plot
from app.present.tolerance_overlay import with_band
from app.qt.choice import Modes
from app.qt.panel import ModeSwitch, Panel
from app.qt.plot.view import PlotView
from app.qt.session import Session
from app.qt.theme import Theme
from app.qt.tolerances import Tolerances
from app.qt.turns import Piece

_IN_CIRCUIT, _BRIDGE = "in circuit", "bridge alone"
_SHOWS = {"magnitude": "|Z|", "phase": "∠", "resistance": "R", "reactance": "X"}
_TIPS = ("Magnitude", "Phase", "Resistance, the real part", "Reactance, the imaginary part: its magnitude")
_TITLE_LEAST = 180


class Impedance(Panel):
    """The plot of the impedances, and the two switches above it."""

    def __init__(self, theme: Theme, session: Session, tolerances: Tolerances, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent=parent)
        self._session, self._tolerances = session, tolerances
        self.plot = PlotView(theme)
        self.modes = Modes(theme, "Impedance shown", (_IN_CIRCUIT, _BRIDGE))
        self.shows = ModeSwitch("Part of the impedance", tuple(_SHOWS.values()), tips=_TIPS)
        self.add(self.plot, stretch=1)
        self.add_tool(self.shows)
        self.add_tool(self.modes)
        self._join()

    def piece(self, weight: int) -> Piece:
        """Return the card as a part of the window."""
        return Piece(name="impedance", key=self._key, render=self.refresh, weight=weight)

    def refresh(self) -> bool:
        """Show the impedances of the present document and view; return that all of it is up to date."""
        session, study = self._session, self._tolerances.study
        results, view = session.moment, session.view
        anatomy = None
        if results.evaluation.outcomes:
            anatomy = session.desk.anatomy(results, view.candidate, bridge_alone=view.bridge_alone)
        spec = impedance_plot(results, session.readings, view, anatomy)
        banded = view.z_shows == "magnitude" and not view.bridge_alone
        # once there are draws, a note in the plot tells of them
        said = self._tolerances.said() if banded and study is None else ""
        self.show_title(spec.title, said, short="Impedance")
        self.plot.render(evolve(with_band(spec, study, results, view), stale=session.trouble))
        self.modes.show_choice(_BRIDGE if view.bridge_alone else _IN_CIRCUIT)
        self.shows.show_choice(_SHOWS[view.z_shows])
        return True

    def set_theme(self, theme: Theme) -> None:
        """Take on another look, with all that is inside."""
        super().set_theme(theme)
        self.plot.set_theme(theme)
        self.modes.set_theme(theme)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fold the switch where the card has no room for all its words."""
        self.modes.fit(self.width() - self.shows.sizeHint().width() - _TITLE_LEAST)
        super().resizeEvent(event)

    def _key(self) -> tuple[object, ...]:
        session, tolerances = self._session, self._tolerances
        return (session.moment, session.trouble, session.view, tolerances.study, tolerances.said())

    def _join(self) -> None:
        views = self._session.views
        self.plot.cursor_moved.connect(lambda f_hz: views.change(cursor_hz=f_hz))
        self.modes.chosen.connect(lambda mode: views.change(bridge_alone=mode == _BRIDGE))
        names = {words: name for name, words in _SHOWS.items()}
        self.shows.chosen.connect(lambda words: views.change(z_shows=names[words]))
