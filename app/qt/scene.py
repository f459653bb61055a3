"""The things a case is made of, as small buttons in groups; a click opens one in the inspector."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt, Signal
from PySide6.QtWidgets import QLabel, QLayout, QLayoutItem, QSizePolicy, QToolButton, QWidget

from app.present.specs import SceneItemSpec, SceneSpec
from app.qt.theme import SPACE, Type, font


class FlowLayout(QLayout):
    """Widgets in reading order, wrapped into as many lines as the width asks for."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self.setContentsMargins(0, 0, 0, 0)
        self.setSpacing(SPACE.xs)

    def addItem(self, item: QLayoutItem) -> None:
        """Take an item at the end."""
        self._items.append(item)

    def count(self) -> int:
        """Return how many items there are."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem:
        """Return an item, None past the end as Qt expects it."""
        return self._items[index] if 0 <= index < len(self._items) else None  # type: ignore[return-value]

    def takeAt(self, index: int) -> QLayoutItem:
        """Remove an item and return it, None past the end as Qt expects it."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None  # type: ignore[return-value]

    def hasHeightForWidth(self) -> bool:
        """Return True: fewer columns make more lines."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height that all lines take."""
        return self._arrange(QRect(0, 0, width, 0), move=False)

    def setGeometry(self, rect: QRect) -> None:
        """Place every item."""
        super().setGeometry(rect)
        self._arrange(rect, move=True)

    def sizeHint(self) -> QSize:
        """Return the least size: the wrapping asks for the rest."""
        return self.minimumSize()

    def minimumSize(self) -> QSize:
        """Return the size of the largest item."""
        size = QSize(0, 0)
        for item in self._items:
            size = size.expandedTo(item.minimumSize())
        return size

    def _arrange(self, rect: QRect, *, move: bool) -> int:
        x, y, line = rect.x(), rect.y(), 0
        for item in self._items:
            size = item.sizeHint()
            if x > rect.x() and x + size.width() > rect.right() + 1:
                x, y, line = rect.x(), y + line + self.spacing(), 0
            if move:
                item.setGeometry(QRect(QPoint(x, y), size))
            x += size.width() + self.spacing()
            line = max(line, size.height())
        return y + line - rect.y()


class SceneView(QWidget):
    """Renders a `SceneSpec`; emits the subject that was clicked."""

    chosen = Signal(str, int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._flow = FlowLayout(self)
        self._shown: list[tuple[str, ...]] = []
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def render(self, spec: SceneSpec) -> None:  # type: ignore[override]
        """Show the groups; only what changed is built anew."""
        wanted = [
            (group.title, *(f"{item.label}|{item.note}|{item.subject}" for item in group.items))
            for group in spec.groups
        ]
        if wanted != self._shown:
            self._shown = wanted
            self._rebuild(spec)
        chips = iter(self.chips())
        for group in spec.groups:
            for item in group.items:
                next(chips).setChecked(item.selected)

    def chips(self) -> list[QToolButton]:
        """Return the buttons in reading order."""
        return [
            widget
            for index in range(self._flow.count())
            if isinstance(widget := self._flow.itemAt(index).widget(), QToolButton)
        ]

    def _rebuild(self, spec: SceneSpec) -> None:
        focused = next((index for index, chip in enumerate(self.chips()) if chip.hasFocus()), None)
        while (item := self._flow.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        for group in spec.groups:
            self._flow.addWidget(_heading(group.title))
            for each in group.items:
                self._flow.addWidget(self._chip(each))
        chips = self.chips()
        if focused is not None and focused < len(chips):
            chips[focused].setFocus()
        self.updateGeometry()

    def _chip(self, item: SceneItemSpec) -> QToolButton:
        chip = QToolButton()
        chip.setText(f"{item.label}   {item.note}".strip())
        chip.setCheckable(True)
        chip.setProperty("pill", True)
        chip.setFont(font(Type.SMALL))
        chip.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        chip.setAccessibleName(f"{item.label} {item.note}".strip())
        chip.clicked.connect(lambda *_: self._choose(chip, item.subject))
        return chip

    def _choose(self, chip: QToolButton, subject: tuple[str, int]) -> None:
        chip.setChecked(True)
        self.chosen.emit(*subject)


def _heading(title: str) -> QLabel:
    label = QLabel(title)
    label.setFont(font(Type.SMALL))
    label.setProperty("role", "muted")
    label.setContentsMargins(SPACE.s, 0, SPACE.xs, 0)
    label.setMinimumHeight(26)
    return label
