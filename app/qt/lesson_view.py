"""The lesson window: the list of lessons, one page at a time, and a session of its own for whatever is touched."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QCloseEvent, QCursor, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QFileDialog, QMainWindow, QMenu, QStackedWidget, QVBoxLayout, QWidget

from app.lessons.course import SAME, Course, stance
from app.lessons.document import Design, Lesson
from app.lessons.predict import Dragged, Drawn, Picked, Prediction
from app.lessons.progress import keep_progress, load_progress
from app.lessons.read import load_course, load_own
from app.lessons.task import Check, check_task
from app.lessons.truth import Truth
from app.present.inspector import inspector_form
from app.present.lesson import course_list, lesson_page, overview
from app.present.lesson_handout import handout_html
from app.present.lesson_specs import LessonSpec
from app.present.section import Drafter
from app.present.section_specs import DrawingSpec, ItemKey
from app.present.tabs import tabs
from app.qt.actions import Actions
from app.qt.lesson_list import LessonList
from app.qt.lesson_maker import LessonMaker
from app.qt.lesson_page import LessonHead, LessonPage, push_button
from app.qt.section import text_width
from app.qt.session import Place, Session
from app.qt.table import AnswersView
from app.qt.theme import Theme, ThemeName, theme_named
from app.state.files import write_whole
from app.state.places import state_folder
from models.case.document import Case
from models.quantity import parse_quantity

OWN = "lessons"
"""The folder, beside unsaved work, in which lessons of one's own are found."""


class LessonWindow(QMainWindow):
    """Teaches: opens beside the main window, on a document of its own, and keeps how far the learner came.

    Parameters
    ----------
    session_of : makes the session of a case; the window keeps one for its whole life
    theme : the look
    folder : where progress is kept, and lessons of one's own in a folder `lessons`
    lessons : the course; the shipped one and one's own by default
    truth_of : what computes a lesson's truth; each lesson's is kept for the life of the window
    present_case : returns the document of the main window, from which a lesson can be made; None for no such button
    """

    def __init__(
        self,
        session_of: Callable[[Case], Session] = Session,
        *,
        theme: Theme | None = None,
        folder: Path | None = None,
        lessons: tuple[Lesson, ...] | None = None,
        truth_of: Callable[[Lesson], Truth] = Truth,
        present_case: Callable[[], Case] | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._folder = state_folder() if folder is None else folder
        self._theme = theme_named(ThemeName.SYSTEM) if theme is None else theme
        self._present_case = present_case
        self._shipped = load_course() if lessons is None else lessons
        self.lessons, self.courses = self._shipped, list[Course]()
        self.open_lesson = 0
        self._truth_of = cache(truth_of)
        self.session = session_of(self.lessons[0].case_of(self.lessons[0].steps[0]))
        self.actions_on_parts = Actions(self.session, self)
        self._strong, self._pinned = "", ""
        self._cursor_hz: float | None = None
        self._drafter = Drafter(text_width)
        self.list = LessonList(self._theme)
        self.head = LessonHead(self._theme)
        self.page = LessonPage(self._theme)
        self.predictions = AnswersView(self._theme)
        self._pages = QStackedWidget()
        self._lesson = QWidget()
        self._lay_out()
        self._join()
        self._load()

    @property
    def course(self) -> Course:
        """Where the learner stands in the open lesson."""
        return self.courses[self.open_lesson]

    @property
    def truth(self) -> Truth:
        """The truth of the open lesson."""
        return self._truth_of(self.lessons[self.open_lesson])

    @property
    def presenting(self) -> bool:
        """Whether the window speaks to a group."""
        return self.head.present_button.isChecked()

    def show_list(self) -> None:
        """Show the list of lessons."""
        self.session.timer.cancel()
        self.head.present_button.setChecked(False)
        self.list.render(course_list(self.courses))
        self._pages.setCurrentWidget(self.list)
        self.setWindowTitle("Lessons — Isthmus")
        row = self.list.rows[self.open_lesson] if self.list.rows else self.list
        row.setFocus()

    def show_overview(self) -> None:
        """Show what was predicted, beside what is true."""
        found = [(course, self._truth_of(course.lesson)) for course in self.courses if course.shown]
        self.predictions.render(overview(found))
        self._pages.setCurrentWidget(self._predictions_page)

    def open(self, index: int) -> None:
        """Open a lesson where it was left."""
        self.open_lesson = index
        self._pages.setCurrentWidget(self._lesson)
        self.setWindowTitle(f"{self.course.lesson.script.title} — Isthmus")
        self._begin_step()

    def forward(self) -> None:
        """Show the answer, go on, or open the next lesson."""
        course = self.course
        if course.asks_now:
            if self.presenting or self.page.forward_button.isEnabled():
                self.show_answer()
        elif not course.at_end:
            self._go(course.forward())
        elif self.open_lesson + 1 < len(self.lessons):
            self.open(self.open_lesson + 1)
        else:
            self.show_list()

    def back(self) -> None:
        """Go one step back."""
        self._go(self.course.back())

    def show_answer(self) -> None:
        """Show what is true, whether anything was predicted or not."""
        self._keep(self.course.show())
        self.refresh()
        self._focus(self.page.forward_button)
        self.page.scroll_to_answer()

    def predict(self, prediction: Prediction) -> None:
        """Take a prediction."""
        self._keep(self.course.predict(prediction))
        self.session.timer.request()

    def put_back(self) -> None:
        """Put the lesson's own circuit back."""
        self.session.begin(self.course.lesson.case_of(self.course.step))
        self.refresh()

    def begin_again(self) -> None:
        """Begin the open lesson anew."""
        self._go(self.course.again())

    def spec(self) -> LessonSpec:
        """Return the page of the present step."""
        check = self._check()
        if check is not None and check.met:
            self._keep(self.course.solve())
        return lesson_page(
            self.truth,
            self.course,
            self.session.case,
            number=self.open_lesson + 1,
            count=len(self.lessons),
            check=check,
            strong=self._strong or self._pinned,
            cursor_hz=self._cursor_hz,
            presenting=self.presenting,
        )

    def refresh(self) -> None:
        """Show the present step anew."""
        if self._pages.currentWidget() is not self._lesson:
            return
        spec, head = self.spec(), self.head
        head.render(spec)
        view, case = self.session.view, self.session.case
        self.page.pills.render(tabs(case, view.candidate))
        self.page.inspector.render(inspector_form(case, view))
        if spec.board or ((spec.designs or head.explore_button.isChecked()) and not self.presenting):
            self._show_section()
        self.page.show_history(self.session.store.undo_name, self.session.store.redo_name)
        self.page.render(
            spec,
            large=self.presenting,
            explores=head.explore_button.isChecked(),
            notes=head.notes_button.isChecked(),
        )

    def _show_section(self) -> None:
        """Draw the board from the side, where its parts can be chosen."""
        case, readings, view = self.session.case, self.session.readings, self.session.view

        def draw(size: tuple[float, float], chosen: ItemKey | None) -> DrawingSpec:
            return self._drafter.draw(case, readings, view, size, chosen=chosen)

        self.page.section.render(draw, self._drafter.height(case, view, self.page.section.width()))

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        for each in (self.list, self.head, self.page, self.predictions):
            each.set_theme(theme)

    def save_handout(self, path: Path) -> None:
        """Write the open lesson as a page to print.

        Raises
        ------
        OSError
            when the file cannot be written
        """
        write_whole(path, handout_html(self.truth, number=self.open_lesson + 1))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Step by keys; before a group with the keys of a presenter as well."""
        keys, key = Qt.Key, event.key()
        forward = {keys.Key_PageDown, keys.Key_Return, keys.Key_Enter} | (
            {keys.Key_Right, keys.Key_Space} if self.presenting else set()
        )
        back = {keys.Key_PageUp} | ({keys.Key_Left} if self.presenting else set())
        if key in forward:
            self.forward()
        elif key in back:
            self.back()
        elif key == keys.Key_F5:
            self.head.present_button.toggle()
        elif key == keys.Key_N and self.presenting:
            self.head.notes_button.toggle()
        elif key == keys.Key_Escape:
            self._escape()
        else:
            super().keyPressEvent(event)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Keep how far the learner came."""
        self.session.timer.cancel()
        event.accept()

    def _escape(self) -> None:
        if self.presenting:
            self.head.present_button.setChecked(False)
        elif self._pages.currentWidget() is not self.list:
            self.show_list()

    def _keep(self, course: Course) -> None:
        """Take another state, and keep it where it differs."""
        if course is not self.course:
            self.courses[self.open_lesson] = course
            keep_progress(self._folder, course)

    def _go(self, course: Course) -> None:
        if course is self.course:
            return
        self._keep(course)
        self._begin_step()

    def _begin_step(self) -> None:
        """Begin a step with its own circuit, whatever was touched before."""
        self._strong = self._pinned = ""
        self._cursor_hz = None
        if stance(self.course, self.session.case) != SAME:
            self.session.begin(self.course.lesson.case_of(self.course.step))
        self._place_cursor()
        self.refresh()
        self.page.scroll_to_top()
        first = self.page.ask.first()
        overlay = self.page.stage.overlay
        target = overlay if overlay.isVisible() and first is None else first
        self._focus(target if self.course.asks_now and target is not None else self.page.forward_button)

    def _place_cursor(self) -> None:
        """Let the current on the board be that of the frequency which the step speaks of."""
        sweep, at_hz = self.session.case.sweep, self._cursor_hz or self.course.step.plot.at_hz
        if at_hz is not None:
            self.session.views.change(cursor_hz=min(max(at_hz, sweep.start_hz), sweep.stop_hz))

    def _focus(self, target: QWidget) -> None:
        """Give the keys to what the page asks for; before a group the window itself takes them."""
        (self if self.presenting else target).setFocus()

    def _check(self) -> Check | None:
        """Return how the selected candidate meets the task, None where there is no task or no candidate."""
        step, case = self.course.step, self.session.case
        if not isinstance(step, Design) or not case.candidates:
            return None
        candidate = case.candidates[min(self.session.view.candidate, len(case.candidates) - 1)]
        return check_task(self.truth.bench.solver, self.course.lesson, step, case, candidate)

    def _point(self, link: str, chosen: bool) -> None:
        """Bring forward what the words point at; a chosen link stays, and moves the cursor."""
        kind, _, target = link.partition(":")
        if kind == "at" and chosen:
            self._cursor_hz = parse_quantity(target, "Hz")
            self._place_cursor()
        elif chosen:
            self._pinned = "" if self._pinned == target else target
            names = [each.name for each in self.session.case.candidates]
            if target in names:
                self.actions_on_parts.select(names.index(target))
        else:
            self._strong = target if kind in ("curve", "part") else ""
        self.session.timer.request()

    def _move_cursor(self, f_hz: float) -> None:
        self._cursor_hz = f_hz
        self._place_cursor()
        self.session.timer.request()

    def _type(self, path: Place, text: str) -> None:
        self.session.type(path, text)
        self.session.timer.request()

    def _ask_handout(self) -> None:
        name, _ = QFileDialog.getSaveFileName(
            self, "Save the handout", f"{self.course.lesson.id}.html", "Page (*.html)"
        )
        if name:
            self.save_handout(Path(name))

    def _make(self) -> None:
        assert self._present_case is not None
        maker = LessonMaker(self._present_case(), self._folder / OWN, self)
        maker.made.connect(lambda _: self._load())
        maker.open()

    def _load(self) -> None:
        """Take the shipped lessons and one's own; what is wrong with one of these is said, the others stay."""
        own, wrong = load_own(self._folder / OWN)
        self.lessons = (*self._shipped, *own)
        self.courses = [load_progress(self._folder, each) for each in self.lessons]
        self.list.show_message("\n".join(wrong))
        self.show_list()

    def _more(self) -> None:
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.addAction("Save a handout to print …", self._ask_handout)
        menu.addAction("Begin this lesson again", self.begin_again)
        menu.popup(QCursor.pos())

    def _lay_out(self) -> None:
        column = QVBoxLayout(self._lesson)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.head)
        column.addWidget(self.page, 1)
        self._predictions_page = QWidget()
        beside = QVBoxLayout(self._predictions_page)
        self.close_overview = push_button("All lessons")
        beside.addWidget(self.close_overview, 0, Qt.AlignmentFlag.AlignLeft)
        beside.addWidget(self.predictions, 1)
        for each in (self.list, self._lesson, self._predictions_page):
            self._pages.addWidget(each)
        self.setCentralWidget(self._pages)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(820, 560)
        self.resize(1280, 800)
        self.list.make_button.setVisible(self._present_case is not None)

    def _join(self) -> None:
        page, head, session = self.page, self.head, self.session
        session.frame.connect(self.refresh)
        session.refused.connect(page.inspector.show_error)
        self.list.chosen.connect(self.open)
        self.list.overview_button.clicked.connect(self.show_overview)
        self.list.make_button.clicked.connect(self._make)
        self.close_overview.clicked.connect(self.show_list)
        head.list_button.clicked.connect(self.show_list)
        head.dots.chosen.connect(lambda index: self._go(self.course.jump(index)))
        for button in (head.explore_button, head.notes_button, head.present_button):
            button.toggled.connect(lambda _: self.refresh())
        head.present_button.toggled.connect(lambda on: self.setFocus() if on else None)
        head.more_button.clicked.connect(self._more)
        page.back.connect(self.back)
        page.forward.connect(self.forward)
        page.skipped.connect(self.show_answer)
        page.put_back.connect(self.put_back)
        page.pointed.connect(self._point)
        page.ask.picked.connect(lambda option, reason: self.predict(Picked(option=option, reason=reason)))
        page.ask.dragged.connect(lambda value: self.predict(Dragged(value=value)))
        page.stage.overlay.dragged.connect(lambda value: self.predict(Dragged(value=value)))
        page.stage.overlay.drawn.connect(self._take_curve)
        page.stage.plot.cursor_moved.connect(self._move_cursor)
        page.pills.selected.connect(self.actions_on_parts.select)
        for button, key, work in (
            (page.undo_button, QKeySequence.StandardKey.Undo, session.store.undo),
            (page.redo_button, QKeySequence.StandardKey.Redo, session.store.redo),
        ):
            button.clicked.connect(work)
            action = QAction(self)
            action.setShortcut(key)
            action.triggered.connect(work)
            self.addAction(action)
        page.add_button.clicked.connect(lambda: self.actions_on_parts.bridge_menu().popup(QCursor.pos()))
        page.section.chosen.connect(lambda kind, index: session.views.change(subject=(kind, index)))
        page.section.part_chosen.connect(lambda *_: self.actions_on_parts.select(session.view.candidate))
        page.inspector.typed.connect(self._type)
        page.inspector.dragged.connect(session.drag)
        page.inspector.drag_ended.connect(session.end_drag)
        page.inspector.action.connect(self.actions_on_parts.run)

    def _take_curve(self, points: tuple[tuple[float, float], ...]) -> None:
        self._keep(self.course.predict(Drawn(points=points) if points else None))
        self.session.timer.request()


def open_lessons(session: Session, owner: QWidget) -> LessonWindow:
    """Open the lessons beside the main window, or bring them forward; they follow its look.

    Parameters
    ----------
    session : of the main window: its look, and the case from which a lesson can be made
    owner : the main window, with which the lessons close
    """
    window = owner.findChild(LessonWindow)
    if window is None:
        window = LessonWindow(
            theme=theme_named(ThemeName(session.view.theme)), present_case=lambda: session.case, parent=owner
        )
        session.views.listen(lambda: window.set_theme(theme_named(ThemeName(session.view.theme))))
    window.show()
    window.activateWindow()
    return window
