"""One value that varies: which, from where to where, in how many points, and which of them to use."""

from __future__ import annotations

from PySide6.QtWidgets import QGridLayout, QLabel, QLineEdit, QWidget

from app.qt.field import ChoiceBox
from app.qt.panel import ElidedLabel, Words
from app.qt.theme import SPACE, Theme, Type
from app.sweep.address import Address
from app.sweep.faults import SweepError
from app.sweep.values import ABOVE_0, RANGE
from models.errors import IsthmusError

_LOG, _LIN = "evenly over the logarithm", "evenly"
_IN_FIELDS = {RANGE: "values that rise, in 2 points or more", ABOVE_0: "values above 0, or evenly spaced ones"}


class AxisForm(QWidget):
    """One value that varies: which, from where to where, in how many points."""

    def __init__(self, theme: Theme, title: str, offered: tuple[tuple[Address | None, str], ...], points: str) -> None:
        super().__init__()
        self._offered = offered
        self.value, self.spacing = ChoiceBox(theme), ChoiceBox(theme)
        self.low, self.high, self.points = QLineEdit(), QLineEdit(), QLineEdit(points)
        self.at = QLineEdit()
        self.message = Words("bad")
        self.value.addItems([words for _, words in offered])
        self.spacing.addItems([_LOG, _LIN])
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(SPACE.s)
        grid.setVerticalSpacing(SPACE.xs)
        head = ElidedLabel(Type.STRONG)
        head.setText(title)
        grid.addWidget(head, 0, 0, 1, 4)
        grid.addWidget(self.value, 1, 0, 1, 4)
        rows: tuple[tuple[str | QLineEdit, ...], ...] = (
            ("From", self.low, "to", self.high),
            ("Points", self.points, "use", self.at),
        )
        self._fields: list[QWidget] = [self.spacing]
        for row, cells in enumerate(rows, start=2):
            for column, cell in enumerate(cells):
                field = muted(cell) if isinstance(cell, str) else cell
                self._fields.append(field)
                grid.addWidget(field, row, column)
        grid.addWidget(self.spacing, 4, 0, 1, 4)
        grid.addWidget(self.message, 5, 0, 1, 4)
        for column in (1, 3):
            grid.setColumnStretch(column, 1)
        for widget, name in (
            (self.value, title),
            (self.low, f"{title}: from"),
            (self.high, f"{title}: to"),
            (self.points, f"{title}: points"),
            (self.at, f"{title}: value to use"),
            (self.spacing, f"{title}: spacing"),
        ):
            widget.setAccessibleName(name)
        self.at.setPlaceholderText("click the plot")
        self.tell("")

    def address(self) -> Address | None:
        """Return what varies; None for nothing."""
        return self._offered[self.value.currentIndex()][0]

    def begin(self, low: str, high: str, *, log: bool) -> None:
        """Show the ends that are usual."""
        self.low.setText(low)
        self.high.setText(high)
        self.at.setText("")
        self.spacing.setCurrentText(_LOG if log else _LIN)
        self.show_fields()

    def show_fields(self) -> None:
        """Show the fields where something varies."""
        for widget in self._fields:
            widget.setVisible(self.address() is not None)

    def text(self) -> str:
        """Return the axis as the command line would be given it."""
        address = self.address()
        assert address is not None
        ending = ":lin" if self.spacing.currentText() == _LIN else ""
        return f"{address.text}={self.low.text()}..{self.high.text()}:{self.points.text()}{ending}"

    def fault(self, error: IsthmusError) -> str:
        """Return what is wrong in the words of the fields, where the command line has a grammar of its own."""
        accepted = _IN_FIELDS.get(error.accepted) if isinstance(error, SweepError) else None
        if accepted is None:
            return str(error)
        return f"Found {self.low.text()} to {self.high.text()} in {self.points.text()} points; accepted: {accepted}."

    def tell(self, text: str) -> None:
        """Say what is wrong with it."""
        self.message.say(text)


def muted(text: str) -> QLabel:
    """Return a label that stands back."""
    label = QLabel(text)
    label.setProperty("role", "muted")
    return label
