"""What opens beside the window: the tools that work on the case, its text and its report, the lessons."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from app.qt.session import Session
from app.qt.theme import ThemeName, theme_named

if TYPE_CHECKING:
    from app.qt.board_check import BoardCheck
    from app.qt.estimate_view import EstimateView
    from app.qt.import_view import ImportView
    from app.qt.purpose_view import PurposeView
    from app.qt.report_view import ReportView
    from app.qt.search_view import SearchView
    from app.qt.sizing_view import SizingView
    from app.qt.sweep_view import SweepView
    from app.qt.text_view import CaseText
    from app.report.wish import Wish

View = TypeVar("View", bound=QWidget)


class Tools:
    """Opens the tools, each loaded when it is meant."""

    def __init__(self, session: Session, owner: QWidget) -> None:
        self._session = session
        self._owner = owner
        self._wish: Wish | None = None

    def lessons(self) -> None:
        """Open the lessons, on a document of their own, or bring them forward; they follow the window's look."""
        from app.qt.lesson_view import LessonWindow

        session, window = self._session, self._owner.findChild(LessonWindow)
        if window is None:
            window = LessonWindow(
                theme=theme_named(ThemeName(session.view.theme)), present_case=lambda: session.case, parent=self._owner
            )
            session.views.listen(lambda: window.set_theme(theme_named(ThemeName(session.view.theme))))
        window.show()
        window.activateWindow()

    def show_text(self) -> CaseText:
        """Open the case as the text of its file."""
        from app.qt.text_view import CaseText

        return _shown(CaseText(self._session, self._owner))

    def write_report(self) -> ReportView:
        """Open the dialog that writes a report; what was asked for last is asked for again."""
        from app.qt.report_view import ReportView, wish_for

        view = ReportView(self._session, wish_for(self._session, self._wish), self._owner)
        view.finished.connect(lambda *_: self._keep_wish(view.wish()))
        return _shown(view)

    def _keep_wish(self, wish: Wish) -> None:
        self._wish = wish

    def import_measurement(self) -> ImportView:
        """Open the view that fits measured data and takes it into the case."""
        from app.qt.import_view import ImportView

        return _shown(ImportView(self._session, self._owner))

    def ask_purpose(self) -> PurposeView:
        """Open the guided start, which turns answers into requirements."""
        from app.qt.purpose_view import PurposeView

        return _shown(PurposeView(self._session, self._owner))

    def search_bridges(self) -> SearchView:
        """Open the search for bridges that meet every requirement."""
        from app.qt.search_view import SearchView

        return _shown(SearchView(self._session, self._owner))

    def size_capacitor(self) -> SizingView:
        """Open the view that sizes the capacitor across the pair."""
        from app.qt.sizing_view import SizingView

        return _shown(SizingView(self._session, self._owner))

    def work_out(self) -> EstimateView:
        """Open the view that works out a value from geometry."""
        from app.qt.estimate_view import open_estimates

        return open_estimates(self._session, self._owner)

    def vary_values(self) -> SweepView | None:
        """Open the view that varies one or two values; a case without a candidate says so."""
        from app.qt.sweep_view import SweepView

        if not self._session.case.candidates:
            self._session.failed.emit("There is no candidate yet whose values could be varied.")
            return None
        return _shown(SweepView(self._session, self._owner))

    def check_board(self) -> BoardCheck:
        """Open the check of the case against a measurement of the built pair."""
        from app.qt.board_check import BoardCheck

        return _shown(BoardCheck(self._session, self._owner))


def _shown(view: View) -> View:
    """Open a view that goes when it is closed."""
    view.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    view.show()
    return view
