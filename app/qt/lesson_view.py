"""The lesson window: the list of lessons, one page at a time, and a session of its own for whatever is touched."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from attrs import evolve
from PySide6.QtCore import Qt
from PySide6.QtGui import QCloseEvent, QKeyEvent
from PySide6.QtWidgets import QFileDialog, QMainWindow, QMenu, QWidget

from app.lessons.course import Course
from app.lessons.document import Lesson
from app.lessons.pointing import Pointing
from app.lessons.predict import Dragged, Drawn, Picked, Prediction
from app.lessons.read import load_course
from app.lessons.shelf import Shelf
from app.lessons.truth import Truth
from app.present.lesson import course_list, lesson_page, overview
from app.present.lesson_handout import handout_html
from app.present.lesson_specs import LessonSpec
from app.qt.keys import pop_up_at
from app.qt.lesson_keys import take_key
from app.qt.lesson_maker import LessonMaker
from app.qt.lesson_pages import LessonPages
from app.qt.lesson_parts import LessonParts
from app.qt.session import Session
from app.qt.theme import Theme, ThemeName, theme_named
from app.state.files import write_whole
from app.state.places import state_folder
from models.case.document import Case


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
        self._theme = theme_named(ThemeName.SYSTEM) if theme is None else theme
        self._present_case = present_case
        shipped = load_course() if lessons is None else lessons
        self.shelf = Shelf(state_folder() if folder is None else folder, shipped, truth_of)
        self.session = session_of(shipped[0].case_of(shipped[0].steps[0]))
        self._pointing = Pointing()
        self._pages = LessonPages(self._theme)
        self.list, self.head, self.page = self._pages.list, self._pages.head, self._pages.page
        self.predictions, self.close_overview = self._pages.predictions, self._pages.close_overview
        self.parts = LessonParts(self.session, self.page, self)
        self.setCentralWidget(self._pages)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(940, 560)
        self.resize(1280, 800)
        self.list.make_button.setVisible(present_case is not None)
        self._join()
        self._load()

    @property
    def course(self) -> Course:
        """Where the learner stands in the open lesson."""
        return self.shelf.course

    @property
    def truth(self) -> Truth:
        """The truth of the open lesson."""
        return self.shelf.truth

    @property
    def presenting(self) -> bool:
        """Whether the window speaks to a group."""
        return self.head.present_button.isChecked()

    @property
    def in_lesson(self) -> bool:
        """Whether the open lesson is what is seen."""
        return self._pages.in_lesson

    def show_list(self) -> None:
        """Show the list of lessons."""
        self.session.timer.cancel()
        self.head.present_button.setChecked(False)
        self.list.render(course_list(self.shelf.courses))
        self._pages.turn_to_list(self.shelf.at)
        self.setWindowTitle("Lessons — Isthmus")

    def show_overview(self) -> None:
        """Show what was predicted, beside what is true."""
        self.predictions.render(overview(self.shelf.answered()))
        self._pages.turn_to_overview()

    def open(self, index: int) -> None:
        """Open a lesson where it was left."""
        self.shelf.leave(self.session.case)
        self.shelf.at = index
        self._pages.turn_to_lesson()
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
        elif self.shelf.at_last:
            self.show_list()
        else:
            self.open(self.shelf.at + 1)

    def back(self) -> None:
        """Go one step back."""
        self._go(self.course.back())

    def show_answer(self) -> None:
        """Show what is true, whether anything was predicted or not."""
        self.shelf.keep(self.course.show())
        self.refresh()
        self._focus(self.page.forward_button)
        self.page.scroll_to_answer()

    def predict(self, prediction: Prediction) -> None:
        """Take a prediction."""
        self.shelf.keep(self.course.predict(prediction))
        self.session.timer.request()

    def put_back(self) -> None:
        """Put the lesson's own circuit back."""
        self.session.begin(self.course.lesson.case_of(self.course.step))
        self.refresh()

    def begin_again(self) -> None:
        """Begin the open lesson anew."""
        self.shelf.begin_again()
        self._begin_step()

    def leave(self) -> None:
        """Stop speaking to a group, or go back to the list."""
        if self.presenting:
            self.head.present_button.setChecked(False)
        elif not self._pages.in_list:
            self.show_list()

    def spec(self) -> LessonSpec:
        """Return the page of the present step."""
        check = self.shelf.check(self.session.case, self.session.view.candidate)
        return lesson_page(
            self.truth,
            self.course,
            self.session.case,
            number=self.shelf.at + 1,
            count=len(self.shelf.lessons),
            check=check,
            strong=self._pointing.strong,
            cursor_hz=self._pointing.at_hz,
            presenting=self.presenting,
        )

    def refresh(self) -> None:
        """Show the present step anew."""
        if not self.in_lesson:
            return
        spec, head = self.spec(), self.head
        head.render(spec)
        self.parts.render(board=spec.board or ((spec.designs or head.explores) and not self.presenting))
        self.page.render(spec, large=self.presenting, explores=head.explores, notes=head.notes_button.isChecked())

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        self._pages.set_theme(theme)

    def save_handout(self, path: Path) -> None:
        """Write the open lesson as a page to print.

        Raises
        ------
        OSError
            when the file cannot be written
        """
        write_whole(path, handout_html(self.truth, number=self.shelf.at + 1))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Do what a key means here."""
        if not take_key(self, Qt.Key(event.key())):
            super().keyPressEvent(event)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Keep how far the learner came."""
        self.session.timer.cancel()
        event.accept()

    def _go(self, course: Course) -> None:
        if course is self.course:
            return
        self.shelf.leave(self.session.case)
        self.shelf.keep(course)
        self._begin_step()

    def _begin_step(self) -> None:
        """Begin a step with its circuit, whatever was touched before."""
        self._pointing = Pointing()
        circuit = self.shelf.enter()
        if self.session.case != circuit:
            self.session.begin(circuit)
        self._place_cursor()
        self.refresh()
        self.page.scroll_to_top()
        first = self.page.ask.first()
        overlay = self.page.stage.overlay
        target = overlay if overlay.isVisible() and first is None else first
        self._focus(target if self.course.asks_now and target is not None else self.page.forward_button)

    def _place_cursor(self) -> None:
        """Let the current on the board be that of the frequency which the step speaks of."""
        sweep, at_hz = self.session.case.sweep, self._pointing.at_hz or self.course.step.plot.at_hz
        if at_hz is not None:
            self.session.views.change(cursor_hz=min(max(at_hz, sweep.start_hz), sweep.stop_hz))

    def _focus(self, target: QWidget) -> None:
        """Give the keys to what the page asks for; before a group the window itself takes them."""
        (self if self.presenting else target).setFocus()

    def _point(self, link: str, chosen: bool) -> None:
        """Bring forward what the words point at; a chosen link stays, and moves the cursor."""
        self._pointing = self._pointing.follow(link, chosen=chosen)
        kind, _, target = link.partition(":")
        if chosen and kind == "at":
            self._place_cursor()
        elif chosen:
            self.parts.select(target)
        self.session.timer.request()

    def _move_cursor(self, f_hz: float) -> None:
        self._pointing = evolve(self._pointing, at_hz=f_hz)
        self._place_cursor()
        self.session.timer.request()

    def _ask_handout(self) -> None:
        name, _ = QFileDialog.getSaveFileName(
            self, "Save the handout", f"{self.course.lesson.id}.html", "Page (*.html)"
        )
        if name:
            self.save_handout(Path(name))

    def _make(self) -> None:
        assert self._present_case is not None
        maker = LessonMaker(self._present_case(), self.shelf.own_folder, self)
        maker.made.connect(lambda _: self._load())
        maker.open()

    def _load(self) -> None:
        """Take the shipped lessons and one's own; what is wrong with one of these is said, the others stay."""
        self.list.show_message("\n".join(self.shelf.load()))
        self.show_list()

    def _more(self) -> None:
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.addAction("Save a handout to print…", self._ask_handout)
        menu.addAction("Begin this lesson again", self.begin_again)
        pop_up_at(menu, self.head.more_button)

    def _join(self) -> None:
        page, head = self.page, self.head
        self.session.frame.connect(self.refresh)
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

    def _take_curve(self, points: tuple[tuple[float, float], ...]) -> None:
        self.shelf.keep(self.course.predict(Drawn(points=points) if points else None))
        self.session.timer.request()
