"""The main window: one sheet, read from cause to effect. It joins the session to the widgets and holds nothing."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Executor
from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QEvent
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QGuiApplication, QKeySequence
from PySide6.QtWidgets import QApplication, QMainWindow

from app.present.answers import answers_table
from app.present.inspector import inspector_form
from app.present.section import Drafter, section_title
from app.present.section_specs import DrawingSpec, ItemKey
from app.present.tabs import header
from app.present.tolerance_overlay import with_yields
from app.qt.actions import Actions
from app.qt.answers_menu import AnswersMenu
from app.qt.consequences import Consequences
from app.qt.documents import Documents
from app.qt.dress import apply_theme
from app.qt.header import Header
from app.qt.help import open_help, open_keys
from app.qt.impedance import Impedance
from app.qt.inspector import Inspector
from app.qt.keys import add_keys, go_to_card, pop_up_at
from app.qt.matters import Matters
from app.qt.message_bar import MessageBar
from app.qt.outside_bar import OutsideBar
from app.qt.panel import Panel
from app.qt.recovery_bar import RecoveryBar
from app.qt.section import SectionView, text_width
from app.qt.section_menu import SectionMenu
from app.qt.session import Session
from app.qt.sheet import Sheet
from app.qt.table import AnswersView
from app.qt.theme import WINDOW_PX, Theme, ThemeName, theme_named
from app.qt.tolerances import Tolerances
from app.qt.turns import Piece, Turns
from app.state.judging import Judging
from models.codec import KeyPath

_EVERY_OTHER = 3
"""Weight in a drag of what a hand on a slider looks at: its turn comes about as often as that of all others."""


class Dressed(Protocol):
    """A widget that paints in a theme's colours."""

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""


class MainWindow(QMainWindow):
    """The sheet: header, section of the board, impedance beside what comes of it, answers, inspector."""

    def __init__(self, session: Session, executor: Executor | None = None) -> None:
        super().__init__()
        self.session = session
        self.documents = Documents(session, self)
        self.bridges = Actions(session, self)
        self._turns = Turns()
        self._judging = Judging()
        self._look = session.view.theme
        theme = theme_named(ThemeName(self._look))
        self.header = Header(theme)
        self.section = SectionView(theme)
        self._drafter = Drafter(text_width)
        self._section_menu = SectionMenu(session, self.bridges, self)
        self.tolerances = Tolerances(session, executor, self)
        self.impedance = Impedance(theme, session, self.tolerances)
        self.consequences = Consequences(theme, session)
        self.answers = AnswersView(theme)
        self.inspector = Inspector(theme)
        self.matters = Matters(theme, session)
        self._answers_menu = AnswersMenu(
            session, self.tolerances, self.documents.begin_other, self._choose_subject, self
        )
        self.recovery = RecoveryBar()
        self.outside = OutsideBar()
        self.message = MessageBar(self)
        self._cards = {name: Panel(theme) for name in ("section", "answers", "inspector")}
        self._lay_out()
        self._join()
        self.refresh()

    def refresh(self) -> None:
        """Render what changed of the present document and view: all of it, or while a hand drags, in turns."""
        self._dress()
        if not self._turns.run(self._pieces(), hurried=self.session.store.dragging):
            self.session.timer.request()

    def _pieces(self) -> tuple[Piece, ...]:
        session, view = self.session, self.session.view
        case, store = session.case, session.store

        def moment(*of_view: object) -> Callable[[], tuple[object, ...]]:
            return lambda: (session.moment, session.trouble, *of_view)

        names = tuple(each.name for each in case.candidates)
        header = (case.title, names, store.changed, view.candidate, store.undo_name, store.redo_name)
        inspector = (case, view.subject, view.everything)
        section = moment(view.candidate, view.subject, view.cursor_hz)
        answers = moment(view.candidate, self.tolerances.study)
        return (
            Piece(name="header", key=lambda: header, render=self._show_header, weight=0),
            Piece(name="inspector", key=lambda: inspector, render=self._show_inspector, weight=0),
            Piece(name="results", key=lambda: (case,), render=session.catch_up, weight=_EVERY_OTHER),
            self.impedance.piece(weight=_EVERY_OTHER),
            Piece(name="section", key=section, render=self._show_section),
            self.consequences.piece(),
            Piece(name="answers", key=answers, render=self._show_answers),
        )

    def _show_answers(self) -> bool:
        """Render the answers; during a drag once a moment of it is judged, candidate by candidate."""
        results, selected = self.session.moment, self.session.view.candidate
        judged = self._judging.advance(results) if self.session.store.dragging else results
        if judged is not None:
            self.answers.render(with_yields(answers_table(judged, selected), self.tolerances.study, judged))
            self._sheet.fit_answers(self.answers.height_for_rows())
        return judged is results

    def _show_inspector(self) -> bool:
        self.inspector.render(inspector_form(self.session.case, self.session.view))
        return True

    def closeEvent(self, event: QCloseEvent) -> None:
        """Close unless changes would be lost that a person wants to keep."""
        if self.documents.may_leave():
            self.session.leave()
            self.tolerances.close()
            event.accept()
        else:
            event.ignore()

    def changeEvent(self, event: QEvent) -> None:
        """Look whether another program changed the file when a person comes back to the window."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.ActivationChange and self.isActiveWindow():
            self.look_at_file()

    def look_at_file(self) -> None:
        """Tell where the file on disk is not the one that was opened or saved."""
        session = self.session
        if session.path is not None and session.changed_outside():
            self.outside.tell(session.path.name, unsaved=session.store.changed)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take a file that is dragged over the window."""
        if event.mimeData().hasUrls() and event.mimeData().urls()[0].isLocalFile():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Open the case that was dropped."""
        self.documents.open_other(Path(event.mimeData().urls()[0].toLocalFile()))

    def _show_header(self) -> bool:
        store = self.session.store
        self.header.render(header(store, self.session.view.candidate))
        self.setWindowTitle(f"{store.case.title}[*] — Isthmus")
        self.setWindowModified(store.changed)
        return True

    def _show_section(self) -> bool:
        case, readings, view = self.session.moment.case, self.session.readings, self.session.view

        def draw(size: tuple[float, float], chosen: ItemKey | None) -> DrawingSpec:
            return self._drafter.draw(case, readings, view, size, chosen=chosen)

        self._cards["section"].show_title(*section_title(view))
        self.section.render(draw, self._drafter.height(case, view, self.section.width()))
        return True

    def _dress(self) -> None:
        """Take on another look where one was chosen."""
        look = self.session.view.theme
        if look != self._look:
            self._look = look
            self._put_on(look)

    def _follow_system(self) -> None:
        """Take on the system's look at once where that is the one to follow."""
        if self._look == ThemeName.SYSTEM:
            self._put_on(self._look)

    def _put_on(self, look: str) -> None:
        theme = theme_named(ThemeName(look))
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        apply_theme(app, theme)
        dressed: tuple[Dressed, ...] = (
            self.header,
            self.section,
            self.impedance,
            self.consequences,
            self.answers,
            self.inspector,
            self.matters,
            *self._cards.values(),
        )
        for widget in dressed:
            widget.set_theme(theme)
        self.header.show_look(ThemeName(look))

    def _lay_out(self) -> None:
        section, answers, inspector = self._cards.values()
        section.add(self.section)
        section.add_tool(self.bridges.adding.button())
        answers.add(self.answers, stretch=1)
        inspector.add(self.inspector, stretch=1)
        inspector.add(self.matters)
        self._sheet = Sheet(
            (self.header, self.recovery, self.outside),
            section=section,
            impedance=self.impedance,
            consequences=self.consequences,
            answers=answers,
            inspector=inspector,
        )
        self.setCentralWidget(self._sheet)
        self.setAcceptDrops(True)
        self.setMinimumSize(900, 620)
        self.resize(*WINDOW_PX)
        self.impedance.plot.setFocus()

    def _join(self) -> None:
        session, views = self.session, self.session.views
        session.frame.connect(self.refresh)
        self.tolerances.changed.connect(session.timer.request)
        session.refused.connect(self.inspector.show_error)
        session.failed.connect(self.message.tell)
        session.store.listen(lambda: self.message.tell(""))
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._follow_system)
        self.recovery.recover.connect(session.recover)
        self.outside.reload.connect(self.documents.reload)
        self.outside.keep.connect(session.keep_against_file)
        self.header.candidate_selected.connect(self.bridges.select)
        self.header.candidate_menu_requested.connect(self.bridges.show_candidate_menu)
        self.header.add_requested.connect(lambda: pop_up_at(self.bridges.bridge_menu(), self.header.add_button))
        self.header.undo.connect(session.store.undo)
        self.header.redo.connect(session.store.redo)
        self.header.theme_chosen.connect(lambda name: views.change(theme=name))
        self.header.set_menu(self.documents.menu(self.tolerances.actions(self, self.documents.begin_other)))
        self.section.chosen.connect(self._choose_subject)
        self.section.part_chosen.connect(lambda *_: self._choose_subject("candidate", session.view.candidate))
        self.section.menu_requested.connect(self._section_menu.show)
        self.section.edit_requested.connect(self._section_menu.edit)
        self.consequences.candidate_chosen.connect(self.bridges.select)
        self.consequences.action.connect(self.bridges.run)
        self.answers.column_activated.connect(self.bridges.select)
        self.answers.offer.clicked.connect(self.documents.tools.ask_purpose)
        self.answers.menu_requested.connect(self._answers_menu.show)
        self.answers.requirement_activated.connect(lambda row: self._choose_subject("requirement", row))
        self.inspector.typed.connect(self._type)
        self.inspector.dragged.connect(session.drag)
        self.inspector.drag_ended.connect(session.end_drag)
        self.inspector.action.connect(self.bridges.run)
        cards = (self.header, *self._sheet.cards)
        standard = QKeySequence.StandardKey
        add_keys(
            self,
            (
                (standard.Undo, session.store.undo),
                (standard.Redo, session.store.redo),
                (standard.HelpContents, lambda: open_help(session.case, self)),
                ("?", lambda: open_keys(self)),
                ("Shift+?", lambda: open_keys(self)),
                ("F6", lambda: go_to_card(cards, 1)),
                ("Shift+F6", lambda: go_to_card(cards, -1)),
                ("F10", self.header.menu_button.showMenu),
            ),
        )

    def _type(self, path: KeyPath, text: str) -> None:
        """Take what was typed, and show it in the program's own form even where the value is the same."""
        self._turns.forget("inspector")
        self.session.type(path, text)
        self.session.timer.request()

    def _choose_subject(self, kind: str, index: int) -> None:
        changes: dict[str, object] = {"subject": (kind, index)}
        if kind == "source":
            changes["source"] = index
        self.session.views.change(**changes)
