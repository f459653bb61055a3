"""Exact ends for the axes of a plot, typed as values with their unit."""

from __future__ import annotations

import math

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QFormLayout, QLineEdit, QWidget

from app.present.specs import AxisSpec
from app.qt.panel import Words
from app.qt.plot.geometry import View
from models.errors import QuantityError
from models.quantity import format_quantity, parse_quantity
from models.units import UNITS

_NAMES = ("Lowest x", "Highest x", "Lowest y", "Highest y")
_UNITS = {"Ω": "ohm"}


class AxesDialog(QDialog):
    """Asks for the ends of both axes; a mistake is told below them and closes nothing."""

    def __init__(self, axes: tuple[AxisSpec, AxisSpec], view: View, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._axes = axes
        self.edits = tuple(QLineEdit() for _ in _NAMES)
        self.message = Words("bad")
        self.view: View | None = None
        self.setWindowTitle("Axes")
        form = QFormLayout(self)
        for name, edit, (axis, end) in zip(_NAMES, self.edits, self._ends(view), strict=True):
            edit.setAccessibleName(name)
            edit.setText(_text(axis, end))
            form.addRow(name, edit)
        form.addRow(self.message)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        form.addRow(buttons)

    def accept(self) -> None:
        """Take what was typed, or say what is wrong with it."""
        try:
            x_low, x_high, y_low, y_high = (
                _value(axis, edit.text()) for edit, axis in zip(self.edits, self._of_edits(), strict=True)
            )
        except QuantityError as error:
            self.message.setText(str(error))
            return
        if not (x_low < x_high and y_low < y_high):
            self.message.setText("found an end that is not above its beginning; accepted: lowest below highest")
            return
        self.view = ((x_low, x_high), (y_low, y_high))
        super().accept()

    def _of_edits(self) -> tuple[AxisSpec, ...]:
        x, y = self._axes
        return x, x, y, y

    def _ends(self, view: View) -> tuple[tuple[AxisSpec, float], ...]:
        ends = (*view[0], *view[1])
        return tuple(zip(self._of_edits(), ends, strict=True))


def _text(axis: AxisSpec, end: float) -> str:
    value = 10.0**end if axis.log else end
    unit = _UNITS.get(axis.unit, axis.unit)
    return format_quantity(value, unit, digits=4) if unit in UNITS else f"{value:.4g}"


def _value(axis: AxisSpec, text: str) -> float:
    """Return what was typed, in what the axis is linear in."""
    unit = _UNITS.get(axis.unit, axis.unit)
    value = parse_quantity(text, unit) if unit in UNITS else _plain(text)
    if axis.log and value <= 0.0:
        raise QuantityError(text, "a value above 0 on a logarithmic axis")
    return math.log10(value) if axis.log else value


def _plain(text: str) -> float:
    try:
        value = float(text.replace("−", "-"))
    except ValueError:
        raise QuantityError(text, "a number") from None
    if not math.isfinite(value):
        raise QuantityError(text, "a finite number")
    return value
