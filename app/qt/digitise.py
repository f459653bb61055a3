"""Reading a curve off a picture: load or paste, mark the axes, click or follow, and hand over the points."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAction, QDragEnterEvent, QDropEvent, QGuiApplication, QImage, QKeySequence, QPainter
from PySide6.QtWidgets import QDialog, QFileDialog, QHBoxLayout, QPushButton, QWidget

from app.present.digitise_form import STAGE_LABELS, digitise_form, hint, reading_at
from app.qt.inspector import Inspector
from app.qt.panel import ModeSwitch, Panel, Words
from app.qt.picture_view import PictureView
from app.qt.theme import SPACE, Theme
from app.state.digitise import CURVE, STAGES, History, Tracing, mark, value_typed, with_line, without_last
from app.state.files import PICTURES
from models.codec import KeyPath
from models.errors import IsthmusError
from models.fitting.follow import follow_line
from models.fitting.picture import Image, Place

_SIDE_WIDTH = 300
_PICTURES = f"Pictures (*{' *'.join(PICTURES)});;All files (*)"
_FOLLOW, _CLICK = "follow its colour", "point by point"
_LARGEST_PX = 4000
"""A larger picture is made smaller: no axis needs more."""


class DigitiseView(QDialog):
    """Takes points of a curve from a picture, by mouse or keys, every step undone by Undo."""

    finished_points = Signal(object)
    """The points as a `Measurement`."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.history = History()
        self._stage = STAGES[0]
        self._source = "picture"
        self._pixels: Image | None = None
        self.picture = PictureView(theme)
        self.form = Inspector(theme)
        self.stages = ModeSwitch("Mark", tuple(STAGE_LABELS[each] for each in STAGES))
        self.way = ModeSwitch("Curve", (_FOLLOW, _CLICK))
        self.way.show_choice(_FOLLOW)
        self.hint, self.reading, self.message = Words("accent"), Words(), Words("bad")
        self.load = _button("Load a picture…", self.ask_picture)
        self.paste = _button("Paste", self.paste_picture)
        self.undo = _button("Undo", lambda: self._step(self.history.undo))
        self.redo = _button("Redo", lambda: self._step(self.history.redo))
        self.use = _button("Use these points", self.hand_over)
        self._cards = (Panel(theme), Panel(theme))
        self._lay_out()
        self._join()
        self._show()

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self.picture.set_theme(theme)
        self.form.set_theme(theme)
        for card in self._cards:
            card.set_theme(theme)

    def open_picture(self, path: Path) -> None:
        """Show a picture from a file, or say that it is none."""
        image = QImage(str(path))
        if image.isNull():
            self.message.say(f"{path.name}: found no picture that can be read; accepted: PNG, JPEG, BMP, GIF, WebP")
            return
        self.show_picture(image, path.name)

    def show_picture(self, image: QImage, source: str) -> None:
        """Begin anew on a picture."""
        if max(image.width(), image.height()) > _LARGEST_PX:
            image = image.scaled(
                _LARGEST_PX,
                _LARGEST_PX,
                Qt.AspectRatioMode.KeepAspectRatio,
                Qt.TransformationMode.SmoothTransformation,
            )
        opaque = _opaque(image)
        self._pixels = pixels_of(opaque)
        self._source = source
        self.history = History()
        self._stage = STAGES[0]
        self.picture.show_image(opaque)
        self.picture.setFocus()
        self.message.say("")
        self._show()

    def paste_picture(self) -> None:
        """Take the picture from the clipboard."""
        image = QGuiApplication.clipboard().image()
        if image.isNull():
            self.message.say("The clipboard holds no picture.")
            return
        self.show_picture(image, "pasted picture")

    def ask_picture(self) -> None:
        """Ask for a picture."""
        name, _ = QFileDialog.getOpenFileName(self, "Load a picture", "", _PICTURES)
        if name:
            self.open_picture(Path(name))

    def tracing(self) -> Tracing:
        """Return what was marked and typed so far."""
        return self.history.present

    def hand_over(self) -> None:
        """Give the points on and close, or say what is missing."""
        tracing = self.tracing()
        if missing := tracing.missing():
            self.message.say(f"Still needed: {missing}.")
            return
        try:
            measurement = tracing.measurement(self._source)
        except IsthmusError as error:
            self.message.say(str(error))
            return
        self.finished_points.emit(measurement)
        self.accept()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take a picture that is dragged over the view."""
        if event.mimeData().hasUrls() or event.mimeData().hasImage():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Show the picture that was dropped."""
        data = event.mimeData()
        if data.hasUrls():
            self.open_picture(Path(data.urls()[0].toLocalFile()))
        elif data.hasImage():
            self.show_picture(QImage(data.imageData()), "dropped picture")

    def _lay_out(self) -> None:
        self.setWindowTitle("Read a curve from a picture")
        self.setAcceptDrops(True)
        self.resize(1080, 660)
        picture, side = self._cards
        picture.show_title("Picture")
        picture.add_tool(self.stages)
        picture.add(self.picture, stretch=1)
        side.setFixedWidth(_SIDE_WIDTH)
        for buttons in ((self.load, self.paste), (self.undo, self.redo)):
            side.add_row(_row(*buttons))
        side.add(self.hint)
        side.add(self.form, stretch=1)
        side.add(self.way)
        side.add(self.reading)
        side.add(self.message)
        self.use.setProperty("main", True)
        whole = QHBoxLayout()
        whole.addStretch(1)
        whole.addWidget(self.use)
        side.add_row(whole)
        row = QHBoxLayout(self)
        row.setContentsMargins(SPACE.m, SPACE.m, SPACE.m, SPACE.m)
        row.setSpacing(SPACE.m)
        row.addWidget(picture, 1)
        row.addWidget(side)

    def _join(self) -> None:
        self.picture.marked.connect(self._mark)
        self.picture.removed.connect(lambda: self._do(without_last(self.tracing())))
        self.picture.moved.connect(lambda at: self.reading.setText(reading_at(self.tracing(), at)))
        self.form.typed.connect(self._type)
        self.stages.chosen.connect(self._choose_stage)
        self.way.chosen.connect(self._choose_way)
        for key, work in (
            (QKeySequence.StandardKey.Undo, lambda: self._step(self.history.undo)),
            (QKeySequence.StandardKey.Redo, lambda: self._step(self.history.redo)),
            (QKeySequence.StandardKey.Paste, self.paste_picture),
        ):
            action = QAction(self)
            action.setShortcuts(key)
            action.triggered.connect(lambda *_, work=work: work())
            self.addAction(action)

    def _mark(self, at: Place) -> None:
        self.message.say("")
        if self._stage == CURVE and self._follows():
            self._follow(at)
            return
        stage = self._stage
        after = mark(self.tracing(), stage, at)
        if stage != CURVE:
            self._stage = after.next_stage()
        self._do(after)
        if stage != CURVE:
            self._ask_value(stage)

    def _ask_value(self, stage: str) -> None:
        """Put the keys into the field of the mark that was just set, unless it has its value."""
        field = self.form.field((stage,))
        if field is not None and not field.spec().text:
            field.editor().setFocus()

    def _follow(self, at: Place) -> None:
        if self._pixels is None:
            return
        try:
            line = follow_line(self._pixels, at)
        except IsthmusError as error:
            self.message.say(str(error))
            return
        self._do(with_line(self.tracing(), line))

    def _type(self, path: KeyPath, text: str) -> None:
        try:
            after = value_typed(self.tracing(), str(path[0]), text)
        except IsthmusError as error:
            self.form.show_error(path, str(error))
            return
        self._do(after)
        self.picture.setFocus()

    def _choose_stage(self, label: str) -> None:
        self._stage = next(name for name, shown in STAGE_LABELS.items() if shown == label)
        self._show()

    def _choose_way(self, way: str) -> None:
        self.way.show_choice(way)
        self._show()

    def _follows(self) -> bool:
        return self.way.choice() == _FOLLOW

    def _do(self, tracing: Tracing) -> None:
        self.history.do(tracing)
        self._show()

    def _step(self, step: Callable[[], None]) -> None:
        step()
        self._stage = self.tracing().next_stage()
        self._show()

    def _show(self) -> None:
        tracing = self.tracing()
        said = hint(tracing, self._stage, follow=self._follows(), has_picture=self._pixels is not None)
        self.hint.setText(said)
        self.form.render(digitise_form(tracing))
        self.stages.show_choice(STAGE_LABELS[self._stage])
        self.picture.render_tracing(tracing, STAGE_LABELS, said)
        self.undo.setEnabled(self.history.can_undo)
        self.redo.setEnabled(self.history.can_redo)
        self.use.setEnabled(not tracing.missing())


def _opaque(image: QImage) -> QImage:
    """Return a picture on white paper."""
    paper = QImage(image.size(), QImage.Format.Format_RGB888)
    paper.fill(Qt.GlobalColor.white)
    painter = QPainter(paper)
    painter.drawImage(paper.rect(), image, image.rect())
    painter.end()
    return paper


def pixels_of(image: QImage) -> Image:
    """Return the colours (height, width, 3) of a picture in RGB888."""
    lines = np.frombuffer(image.constBits(), np.uint8, count=image.sizeInBytes())
    lines = lines.reshape(image.height(), image.bytesPerLine())
    return lines[:, : 3 * image.width()].reshape(image.height(), image.width(), 3).copy()


def _button(text: str, work: Callable[[], object]) -> QPushButton:
    button = QPushButton(text)
    button.setAutoDefault(False)
    button.clicked.connect(lambda *_: work())
    return button


def _row(*widgets: QWidget) -> QHBoxLayout:
    row = QHBoxLayout()
    for widget in widgets:
        row.addWidget(widget)
    row.addStretch(1)
    return row
