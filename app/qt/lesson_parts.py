"""The parts beside a page of a lesson: candidates, board and quantities, joined to the lesson's own session."""

from __future__ import annotations

from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QWidget

from app.present.inspector import inspector_form
from app.present.section import Drafter
from app.present.section_specs import DrawingSpec, ItemKey
from app.present.tabs import tabs
from app.qt.actions import Actions
from app.qt.keys import add_keys, pop_up_at
from app.qt.lesson_page import LessonPage
from app.qt.section import text_width
from app.qt.session import Session
from models.codec import KeyPath


class LessonParts:
    """Shows the parts of a session on a page, and does to the session what a person does to them."""

    def __init__(self, session: Session, page: LessonPage, owner: QWidget) -> None:
        self._session = session
        self._page = page
        self._owner = owner
        self._drafter = Drafter(text_width)
        self.actions = Actions(session, owner)
        self._join()

    def render(self, *, board: bool) -> None:
        """Show the parts; the board is drawn only where it is to be seen."""
        view, case, store = self._session.view, self._session.case, self._session.store
        self._page.pills.render(tabs(case, view.candidate))
        self._page.inspector.render(inspector_form(case, view))
        if board:
            self._show_section()
        self._page.show_history(store.undo_name, store.redo_name)

    def select(self, name: str) -> None:
        """Choose the candidate of that name, where there is one."""
        names = [each.name for each in self._session.case.candidates]
        if name in names:
            self.actions.select(names.index(name))

    def _show_section(self) -> None:
        """Draw the board from the side, where its parts can be chosen."""
        case, readings, view = self._session.case, self._session.readings, self._session.view
        section = self._page.section

        def draw(size: tuple[float, float], chosen: ItemKey | None) -> DrawingSpec:
            return self._drafter.draw(case, readings, view, size, chosen=chosen)

        section.render(draw, self._drafter.height(case, view, section.width()))
        self._page.board.render(draw)

    def _offer_bridges(self) -> None:
        pop_up_at(self.actions.bridge_menu(), self._page.add_button)

    def _type(self, path: KeyPath, text: str) -> None:
        self._session.type(path, text)
        self._session.timer.request()

    def _join(self) -> None:
        page, session = self._page, self._session
        session.refused.connect(page.inspector.show_error)
        page.pills.selected.connect(self.actions.select)
        page.undo_button.clicked.connect(session.store.undo)
        page.redo_button.clicked.connect(session.store.redo)
        keys = QKeySequence.StandardKey
        add_keys(self._owner, ((keys.Undo, session.store.undo), (keys.Redo, session.store.redo)))
        page.add_button.clicked.connect(self._offer_bridges)
        page.section.chosen.connect(lambda kind, index: session.views.change(subject=(kind, index)))
        page.section.part_chosen.connect(lambda *_: self.actions.select(session.view.candidate))
        page.inspector.typed.connect(self._type)
        page.inspector.dragged.connect(session.drag)
        page.inspector.drag_ended.connect(session.end_drag)
        page.inspector.action.connect(self.actions.run)
