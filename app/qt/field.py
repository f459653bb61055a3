"""ValueField: one value that is typed as the trade types it, dragged on a slider, or chosen from a list."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QEvent, QObject, QPointF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QPainter, QPaintEvent, QPen, QPolygonF, QWheelEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFileDialog,
    QGridLayout,
    QLabel,
    QLineEdit,
    QSizePolicy,
    QStyle,
    QStyledItemDelegate,
    QToolButton,
    QWidget,
)

from app.present.specs import FieldSpec
from app.qt.panel import Words
from app.qt.slider import ValueSlider
from app.qt.theme import SPACE, Theme, Type, font

_EDITOR_WIDTH = 104
_LABEL_WIDTH = 92
"""So that texts and choices under each other start at one line."""
_NOT_SET = "not set"
_MOST_SEEN = 16
"""Options that a list shows at once."""


def field_kind(spec: FieldSpec) -> tuple[str, bool, tuple[str, ...]]:
    """Return what a field is made of; fields of one kind can be updated in place."""
    typed = "file" if spec.files else "value" if spec.unit or spec.low is not None else "text"
    kind = "choice" if spec.choices else typed
    return kind, spec.low is not None and spec.high is not None and not spec.choices, spec.choices


def inside(name: str, folder: Path) -> str:
    """Return a file's name as seen from a folder that it lies in, whole where it lies elsewhere."""
    whole, start = Path(name).resolve(), folder.resolve()
    return whole.relative_to(start).as_posix() if whole.is_relative_to(start) else str(whole)


class ChoiceBox(QComboBox):
    """A list to choose from, with a chevron in the theme's colour; the wheel is left to the page."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setMinimumContentsLength(6)
        self.setMaxVisibleItems(_MOST_SEEN)
        # the usual one of a list pays no heed to the room that the look gives a row
        self.setItemDelegate(QStyledItemDelegate(self))

    def showPopup(self) -> None:
        """Open the list, wide enough for what it offers."""
        bar = self.style().pixelMetric(QStyle.PixelMetric.PM_ScrollBarExtent) if self.count() > _MOST_SEEN else 0
        view = self.view()
        view.setMinimumWidth(view.sizeHintForColumn(0) + 2 * view.frameWidth() + bar)
        super().showPopup()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to the page."""
        event.ignore()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the box and its chevron."""
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self.theme.color("muted"), 1.6))
        at = QPointF(self.width() - 15, self.height() / 2 + 0.5)
        painter.drawPolyline(QPolygonF([at + QPointF(-4, -2), at + QPointF(0, 2), at + QPointF(4, -2)]))
        painter.end()


class ValueField(QWidget):
    """Renders a FieldSpec. A mistake is told beside the field, and the document keeps its value.

    Whoever accepts a typed text renders the field anew; whoever refuses it calls `show_error` at once.
    """

    typed = Signal(object, str)
    dragged = Signal(object, float)
    drag_ended = Signal()

    def __init__(self, theme: Theme, spec: FieldSpec, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._spec = spec
        self._shown: FieldSpec | None = None
        self._refused: str | None = None
        self._label = QLabel(self)
        self._note = Words(parent=self)
        self._kind = field_kind(spec)
        self._edit = QLineEdit(self) if not spec.choices else None
        self._choice = ChoiceBox(theme, self) if spec.choices else None
        self._slider = ValueSlider(theme, spec, self) if self._kind[1] else None
        self._browse = self._browse_button() if spec.files else None
        self._lay_out()
        self._connect()
        self.render(spec)

    def render(self, spec: FieldSpec) -> None:  # type: ignore[override]
        """Show a value of the same kind of field; what a person is typing and the knob under the hand stay."""
        if spec == self._shown and self._settled():
            return
        changed = spec.text != self._spec.text
        self._shown = self._spec = spec
        self._label.setText(spec.label)
        self._describe()
        if self._choice is not None:
            self._choice.setCurrentIndex(spec.choices.index(spec.text) if spec.text in spec.choices else -1)
        if self._edit is not None and (changed or not self._edit.isModified()):
            self._show_text()
        if self._refused is None:
            self._show_note()
        if self._slider is not None:
            self._slider.show_spec(spec)

    def show_error(self, text: str) -> None:
        """Tell a mistake beside the field; what was typed stays so that it can be mended."""
        if self._edit is not None:
            self._refused = self._edit.text()
            self._edit.setModified(True)
            self._mark_wrong(wrong=True)
            self._edit.setAccessibleDescription(text)
        self._say(text, "bad")

    def error(self) -> str:
        """Return the mistake that is shown; empty where there is none."""
        return self._note.text() if self._note.property("role") == "bad" else ""

    def restore(self) -> None:
        """Go back to the document's value, as Escape does."""
        self._show_text()
        self._show_note()

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        for part in (self._slider, self._choice):
            if part is not None:
                part.theme = theme
                part.update()

    def spec(self) -> FieldSpec:
        """Return what is shown."""
        return self._spec

    def editor(self) -> QLineEdit | QComboBox:
        """Return what takes the keys."""
        editor = self._edit or self._choice
        if editor is None:
            raise TypeError("a field has either a line to type in or a list to choose from")
        return editor

    def slider(self) -> ValueSlider | None:
        """Return the slider, where the field has one."""
        return self._slider

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Escape restores, Up and Down step through standard values, undo goes to the case when nothing is typed."""
        if isinstance(event, QKeyEvent) and watched is self._edit and self._edit is not None:
            if event.type() == QEvent.Type.ShortcutOverride and not self._edit.isModified():
                undo = event.matches(QKeySequence.StandardKey.Undo) or event.matches(QKeySequence.StandardKey.Redo)
                if undo:
                    event.ignore()
                    return True
            elif event.type() == QEvent.Type.KeyPress and self._take_key(event):
                return True
        return super().eventFilter(watched, event)

    def _settled(self) -> bool:
        """Return whether the document's value stands in the field, neither typed over nor refused."""
        if self._refused is not None or self.error():
            return False
        return self._edit is None or (self._edit.text() == self._spec.text and not self._edit.isModified())

    def _take_key(self, event: QKeyEvent) -> bool:
        if event.key() == Qt.Key.Key_Escape and self._edit is not None and (self._edit.isModified() or self._refused):
            self.restore()
            return True
        if event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down) and self._slider is not None:
            self._slider.step(up=event.key() == Qt.Key.Key_Up)
            return True
        return False

    def _lay_out(self) -> None:
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(SPACE.s)
        grid.setVerticalSpacing(1)
        self._label.setTextFormat(Qt.TextFormat.PlainText)
        self._label.setProperty("role", "muted")
        grid.addWidget(self._label, 0, 0)
        grid.addWidget(self.editor(), 0, 1)
        if self._browse is not None:
            grid.addWidget(self._browse, 0, 2)
        value = self._kind[0] == "value"
        grid.setColumnStretch(0 if value else 1, 1)
        self._label.setMinimumWidth(40 if value else _LABEL_WIDTH)
        if self._edit is not None and value:
            self._edit.setFixedWidth(_EDITOR_WIDTH)
            self._edit.setAlignment(Qt.AlignmentFlag.AlignRight)
            self._edit.setFont(font(Type.STRONG))
        if self._slider is not None:
            grid.addWidget(self._slider, 1, 0, 1, 2)
        grid.addWidget(self._note, 2, 0, 1, grid.columnCount())

    def _connect(self) -> None:
        self.setFocusProxy(self.editor())
        self._label.setBuddy(self.editor())
        if self._edit is not None:
            self._edit.installEventFilter(self)
            self._edit.editingFinished.connect(self._commit)
            self._edit.textEdited.connect(self._typing)
        if self._choice is not None:
            self._choice.addItems(self._spec.choices)
            self._choice.textActivated.connect(lambda text: self.typed.emit(self._spec.path, text))
        if self._slider is not None:
            self._slider.moved.connect(self._drag)
            self._slider.let_go.connect(self.drag_ended)

    def _browse_button(self) -> QToolButton:
        button = QToolButton(self)
        button.setText("…")
        button.setProperty("quiet", True)
        name = f"Browse for {self._spec.label.lower()}"
        button.setAccessibleName(name)
        button.setToolTip(name)
        button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        button.clicked.connect(self._choose_file)
        return button

    def _choose_file(self) -> None:
        spec = self._spec
        start = str((Path(spec.folder) / spec.text).parent)
        name, _ = QFileDialog.getOpenFileName(self, spec.help.capitalize(), start, spec.files)
        if name and self._edit is not None:
            self._edit.setText(inside(name, Path(spec.folder)))
            self.typed.emit(spec.path, self._edit.text())

    def _describe(self) -> None:
        name = self._spec.label
        for part in (self.editor(), self._label):
            part.setToolTip(self._spec.help)
            part.setWhatsThis(self._spec.help)
        self.editor().setAccessibleName(name)
        if self._slider is not None:
            self._slider.setAccessibleName(f"{name}, slider")

    def _commit(self) -> None:
        if self._edit is None:
            return
        text = self._edit.text()
        if text == self._spec.text:
            self._edit.setModified(False)
            self._show_note()
        elif self._edit.isModified() and text != self._refused:
            self._edit.setModified(False)
            self.typed.emit(self._spec.path, text)

    def _typing(self) -> None:
        if self._refused is not None:
            self._show_note()

    def _drag(self, value: float) -> None:
        if self._edit is not None:
            self._edit.setModified(False)
        self._show_note()
        self.dragged.emit(self._spec.path, value)

    def _show_text(self) -> None:
        if self._edit is None:
            return
        if self._edit.text() != self._spec.text:
            self._edit.setText(self._spec.text)
            # the beginning of a text says what it is about
            self._edit.setCursorPosition(0)
        self._edit.setModified(False)
        self._edit.setPlaceholderText(_NOT_SET if self._spec.optional else "")
        self._show_note()

    def _show_note(self) -> None:
        self._refused = None
        self._mark_wrong(wrong=False)
        if self._edit is not None:
            self._edit.setAccessibleDescription(self._spec.note)
        self._say(self._spec.note, "muted")

    def _say(self, text: str, role: str) -> None:
        self._note.say(text)
        if self._note.property("role") != role:
            self._note.setProperty("role", role)
            _restyle(self._note)

    def _mark_wrong(self, *, wrong: bool) -> None:
        if self._edit is not None and bool(self._edit.property("wrong")) is not wrong:
            self._edit.setProperty("wrong", wrong)
            _restyle(self._edit)


def _restyle(widget: QWidget) -> None:
    widget.style().unpolish(widget)
    widget.style().polish(widget)
