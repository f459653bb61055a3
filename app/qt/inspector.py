"""Inspector: the page of whatever is selected. It changes in place while the same fields are shown."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QMenu, QScrollArea, QToolButton, QVBoxLayout, QWidget

from app.present.specs import FormSpec, SectionSpec
from app.qt.field import ValueField, field_kind
from app.qt.panel import ElidedLabel, Words
from app.qt.theme import SPACE, Theme, Type, font
from models.codec import KeyPath

_ACTIONS_IN_LINE = 2


class SectionView(QWidget):
    """One part or source: its name, what can be done with it, its fields."""

    action = Signal(str)

    def __init__(self, theme: Theme, spec: SectionSpec, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.fields = [ValueField(theme, field, self) for field in spec.fields]
        self._title = ElidedLabel(Type.STRONG)
        self._note = Words(parent=self)
        head = QHBoxLayout()
        head.setSpacing(2)
        head.addWidget(self._title, 1)
        for button in self._buttons(spec):
            head.addWidget(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE.s + 2)
        column.addLayout(head)
        for field in self.fields:
            column.addWidget(field)
        column.addWidget(self._note)
        self.render(spec)

    def render(self, spec: SectionSpec) -> None:  # type: ignore[override]
        """Show other values in the same fields."""
        self._title.setText(spec.title)
        self.setAccessibleName(spec.title)
        self._note.say(spec.note)
        for field, shown in zip(self.fields, spec.fields, strict=True):
            field.render(shown)

    def _buttons(self, spec: SectionSpec) -> list[QToolButton]:
        """Return a button an action, or one with a menu where they would crowd out the name."""
        if len(spec.actions) > _ACTIONS_IN_LINE:
            return [self._menu_button(spec)]
        buttons = []
        for name, label in spec.actions:
            button = _quiet_button(label, f"{label}: {spec.title}")
            button.clicked.connect(self._teller(name))
            buttons.append(button)
        return buttons

    def _menu_button(self, spec: SectionSpec) -> QToolButton:
        button = _quiet_button("Change…", f"Change {spec.title}")
        menu = QMenu(button)
        for name, label in spec.actions:
            menu.addAction(label).triggered.connect(self._teller(name))
        button.setMenu(menu)
        button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        return button

    def _teller(self, name: str) -> Callable[[], None]:
        return lambda: self.action.emit(name)


class Inspector(QWidget):
    """Renders a FormSpec; tells what was typed, dragged or asked for."""

    typed = Signal(object, str)
    dragged = Signal(object, float)
    drag_ended = Signal()
    action = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._shape: tuple[object, ...] | None = None
        self._sections: list[SectionView] = []
        self._title = ElidedLabel(Type.TITLE)
        self._subtitle = ElidedLabel(Type.SMALL, "muted")
        self._caution = Words(parent=self)
        self._scroll = QScrollArea(self)
        self._lay_out()

    def render(self, spec: FormSpec) -> None:  # type: ignore[override]
        """Show a page; with the same fields as before, nothing is built anew and the focus stays."""
        self._title.setText(spec.title)
        self._subtitle.setText(spec.subtitle)
        self._subtitle.setVisible(bool(spec.subtitle))
        self._caution.say(spec.caution)
        self.setAccessibleName(spec.title)
        shape = _shape(spec)
        if shape != self._shape:
            self._build(spec)
            self._shape = shape
        else:
            for view, section in zip(self._sections, spec.sections, strict=True):
                view.render(section)

    def field(self, path: KeyPath) -> ValueField | None:
        """Return the field of a value, where the page has one."""
        return next((field for field in self._fields() if field.spec().path == path), None)

    def show_error(self, path: KeyPath, text: str) -> None:
        """Tell a mistake beside the field it was typed in."""
        field = self.field(path)
        if field is not None:
            field.show_error(text)

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        for field in self._fields():
            field.set_theme(theme)

    def _fields(self) -> list[ValueField]:
        return [field for section in self._sections for field in section.fields]

    def _lay_out(self) -> None:
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self._title)
        column.addWidget(self._subtitle)
        column.addSpacing(SPACE.m)
        column.addWidget(self._scroll, 1)
        column.addSpacing(SPACE.s)
        column.addWidget(self._caution)
        self.setMinimumWidth(220)

    def _build(self, spec: FormSpec) -> None:
        """Build the page anew; the field that had the focus gets it back, the scroll stays where it can."""
        held = next((f.spec().path for f in self._fields() if f.isAncestorOf(_focus_of(self))), None)
        for field in self._fields():
            # a line that loses the focus because it goes away must not commit what was half typed
            field.blockSignals(True)
        scrolled = self._scroll.verticalScrollBar().value()
        self._sections = [SectionView(self._theme, section) for section in spec.sections]
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 0, SPACE.m, 0)
        column.setSpacing(SPACE.m)
        for index, view in enumerate(self._sections):
            if index:
                column.addWidget(_rule())
            column.addWidget(view)
            self._connect(view)
        column.addStretch(1)
        self._scroll.setWidget(page)
        self._scroll.verticalScrollBar().setValue(scrolled)
        back = self.field(held) if held is not None else None
        if back is not None:
            back.setFocus()

    def _connect(self, view: SectionView) -> None:
        view.action.connect(self.action)
        for field in view.fields:
            field.typed.connect(self.typed)
            field.dragged.connect(self.dragged)
            field.drag_ended.connect(self.drag_ended)


def _shape(spec: FormSpec) -> tuple[object, ...]:
    """Return what the page is made of: another shape needs other widgets."""
    return tuple(
        (section.actions, tuple((field.path, field_kind(field)) for field in section.fields))
        for section in spec.sections
    )


def _quiet_button(label: str, name: str) -> QToolButton:
    button = QToolButton()
    button.setText(label)
    button.setProperty("quiet", True)
    button.setFont(font(Type.SMALL))
    button.setAccessibleName(name)
    button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    return button


def _rule() -> QFrame:
    line = QFrame()
    line.setFixedHeight(1)
    line.setProperty("rule", True)
    return line


def _focus_of(widget: QWidget) -> QWidget:
    return widget.window().focusWidget() or widget
