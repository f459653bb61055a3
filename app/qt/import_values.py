"""The fitted values with their intervals, as a small table of text."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QGridLayout, QLabel, QScrollArea, QWidget

from app.present.import_plot import ValueRow
from app.qt.theme import SPACE, Type, font


class ValueTable(QScrollArea):
    """Values down; each with the interval that holds it with 95 % confidence."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("Fitted values with 95 % confidence intervals")
        self._rows: tuple[ValueRow, ...] = ()

    def render(self, rows: tuple[ValueRow, ...]) -> None:  # type: ignore[override]
        """Show other rows."""
        if rows == self._rows and self.widget() is not None:
            return
        self._rows = rows
        page = QWidget()
        grid = QGridLayout(page)
        grid.setContentsMargins(0, 0, SPACE.s, 0)
        grid.setHorizontalSpacing(SPACE.s)
        grid.setVerticalSpacing(2)
        if rows:
            for column, text in enumerate(("Value", "", "95 % confidence")):
                grid.addWidget(_label(text, "muted"), 0, column)
        for number, row in enumerate(rows, start=1):
            grid.addWidget(_label(row.label), number, 0)
            grid.addWidget(_label(row.value, right=True), number, 1)
            grid.addWidget(_label(row.interval, "muted"), number, 2)
        grid.setRowStretch(len(rows) + 1, 1)
        grid.setColumnStretch(2, 1)
        self.setWidget(page)

    def texts(self) -> list[str]:
        """Return what is shown, row by row."""
        return [f"{row.label} {row.value} {row.interval}" for row in self._rows]


def _label(text: str, role: str = "", *, right: bool = False) -> QLabel:
    label = QLabel(text)
    label.setFont(font(Type.SMALL))
    label.setProperty("role", role)
    if right:
        label.setAlignment(Qt.AlignmentFlag.AlignRight)
    return label
