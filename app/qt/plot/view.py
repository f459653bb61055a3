"""PlotView: a plot on the screen, with its cursor, its zoom and its ways out."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QRectF, QSize, QSizeF, Qt, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QFocusEvent,
    QGuiApplication,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QFileDialog, QMenu, QWidget

from app.present.specs import AxisSpec, PlotSpec
from app.qt.kept import KeptPicture
from app.qt.plot.axes import AxesDialog
from app.qt.plot.canvas import Canvas
from app.qt.plot.draw import lay_out
from app.qt.plot.export import csv_text, impedance_curve, picture, write_file
from app.qt.plot.geometry import View, home_range
from app.qt.plot.hand import Hand
from app.qt.plot.items import CurveInk, Sheet, back_key, draw_back, draw_curves, draw_top, place_all, reduce_curves
from app.qt.theme import Theme

_NOTCH = 120.0
_ZOOM_A_NOTCH = 0.8
_CLOSEST = 1e-3
"""The smallest part of the home range that can fill the plot."""
_Y_ROOM = 1.0
"""How far y can be moved beyond its home range, in home ranges."""
_TAB_REASONS = (Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason, Qt.FocusReason.ShortcutFocusReason)


class PlotView(QWidget):
    """Renders a PlotSpec. Tells where a person wants the cursor; keeps only what part of the plot is seen."""

    cursor_moved = Signal(float)
    failed = Signal(str)
    """An export that could not be written, in one sentence."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(QSize(180, 110))
        self.setMouseTracking(True)
        # the canvas covers it whole, so that neither it nor the card behind has anything to paint
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self._spec = PlotSpec(title="")
        self._view = _unit()
        self._canvas = Canvas(self._paint, self)
        self._sheet = Sheet(theme, self._spec, QRectF(self.rect()), *lay_out(self._spec, QRectF(self.rect()), _unit()))
        self._laid_out: tuple[object, ...] = ()
        self._inks: list[CurveInk] = []
        self._back, self._others = KeptPicture(), KeptPicture()
        self._hand = Hand(self, self._sheet)
        self.reset_view()

    def render(self, spec: PlotSpec) -> None:  # type: ignore[override]
        """Show a plot. A view that a person zoomed stays, as long as the axes are of the same kind."""
        old, self._spec = self._spec, spec
        self._sheet.spec = spec
        at_home = self._at_home(old)
        self._show_curves()
        self.setAccessibleName(spec.title)
        self.setAccessibleDescription(_in_words(spec))
        if at_home or _kind(old.x) != _kind(spec.x) or _kind(old.y) != _kind(spec.y):
            self.reset_view()
        self._lay_out()

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._sheet.theme = theme
        self.repaint_sheet()

    def sheet(self) -> Sheet:
        """Return what is painted, for tests and for drawings laid over the plot."""
        return self._sheet

    def inks(self) -> tuple[CurveInk, ...]:
        """Return the curves with their pixels."""
        return tuple(self._inks)

    def view(self) -> View:
        """Return the x range and the y range that are seen, log10 on a log axis."""
        return self._view

    def set_view(self, view: View) -> None:
        """Show a part of the plot, kept within its limits."""
        home_x, home_y = home_range(self._spec.x), home_range(self._spec.y)
        height = home_y[1] - home_y[0]
        x = _within(view[0], home_x)
        y = _within(view[1], (home_y[0] - _Y_ROOM * height, home_y[1] + _Y_ROOM * height))
        if (x, y) != self._view:
            self._view = x, y
            self._lay_out()

    def reset_view(self) -> None:
        """Show the whole plot again."""
        self.set_view((home_range(self._spec.x), home_range(self._spec.y)))

    def shows_all(self) -> bool:
        """Return whether the whole plot is seen."""
        return self._at_home(self._spec)

    def zoom(self, factor: float, *, x_at: float | None = None, y_at: float | None = None) -> None:
        """Scale the view about a place given in what the axes are linear in; an axis without a place stays."""
        x, y = self.view()
        self.set_view((_scaled(x, factor, x_at), _scaled(y, factor, y_at)))

    def move_cursor(self, x: float) -> None:
        """Ask for the cursor at a place, kept on the axis; a plot without a cursor asks for none."""
        if self._spec.cursor_x is not None:
            self.cursor_moved.emit(min(max(x, self._spec.x.low), self._spec.x.high))

    def copy_picture(self) -> None:
        """Put the plot on the clipboard as a picture."""
        QGuiApplication.clipboard().setImage(picture(self._sheet.theme, self._spec, self._picture_size(), self.view()))

    def copy_data(self) -> None:
        """Put the curves on the clipboard as CSV."""
        QGuiApplication.clipboard().setText(csv_text(self._spec))

    def export(self, path: Path) -> None:
        """Write the plot as PNG, SVG, CSV or Touchstone, as the file's ending says."""
        try:
            write_file(path, self._sheet.theme, self._spec, self._picture_size(), self.view())
        except OSError as error:
            self.failed.emit(str(error))

    def menu(self) -> QMenu:
        """Return the menu of what can be done with the plot."""
        menu = QMenu(self)
        menu.addAction("Copy picture\tCtrl+C", self.copy_picture)
        menu.addAction("Copy data\tCtrl+Shift+C", self.copy_data)
        menu.addAction("Export…", self._ask_export)
        menu.addSeparator()
        menu.addAction("Axes…", self.ask_axes)
        menu.addAction("Show all\tHome", self.reset_view)
        return menu

    def ask_axes(self) -> AxesDialog:
        """Ask for the exact ends of the axes, and show that part of the plot."""
        dialog = AxesDialog((self._spec.x, self._spec.y), self.view(), self)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.accepted.connect(lambda: self.set_view(dialog.view or self.view()))
        dialog.open()
        return dialog

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Move the cursor, zoom, copy."""
        if not self._hand.key(event):
            super().keyPressEvent(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Open the menu."""
        menu = self.menu()
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.popup(event.globalPos())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay out for the new size."""
        super().resizeEvent(event)
        self._canvas.setGeometry(self.rect())
        self._lay_out()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show the ring when the keyboard brought the focus here."""
        self._sheet.focused = event.reason() in _TAB_REASONS
        self.repaint_sheet()
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Take the ring away."""
        self._sheet.focused = False
        self.repaint_sheet()
        super().focusOutEvent(event)

    def repaint_sheet(self) -> None:
        """Paint again at the next turn of the event loop."""
        self._canvas.repaint_sheet()

    def _paint(self, painter: QPainter) -> None:
        """Paint the back from memory, and on it the curves and the cursor."""
        sheet = self._sheet
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), sheet.theme.color("panel"))
        reduce_curves(self._inks, sheet.frame)
        place_all(sheet, self._inks)
        self._back.paint(painter, QSizeF(self.size()), back_key(sheet), lambda inside: draw_back(inside, sheet))
        self._paint_curves(painter)
        draw_top(painter, sheet)

    def _paint_curves(self, painter: QPainter) -> None:
        """Paint the others from memory and the strong curve on them: a drag often moves that one alone."""
        sheet = self._sheet
        strong = [ink for ink in self._inks if ink.curve.strong]
        others = [ink for ink in self._inks if not ink.curve.strong]
        key = (sheet.theme.name, sheet.frame, sheet.spec.stale, sheet.spec.empty, *(ink.curve for ink in others))
        self._others.paint(painter, QSizeF(self.size()), key, lambda inside: draw_curves(inside, sheet, others))
        draw_curves(painter, sheet, strong)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take the cursor, begin to pan, or begin a box."""
        self._hand.mouse(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Go on with what was begun, or show what a press would do."""
        self._hand.mouse(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """End what was begun."""
        self._hand.mouse(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Show the whole plot."""
        self._hand.mouse(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom x about the pointer; with Shift, or over the y axis, zoom y."""
        at, frame = event.position(), self._sheet.frame
        turned = event.angleDelta().y() or event.angleDelta().x()
        factor = _ZOOM_A_NOTCH ** (turned / _NOTCH)
        upright = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier) or at.x() < frame.left
        (x_low, x_high), (y_low, y_high) = self.view()
        if upright:
            self.zoom(factor, y_at=y_low + (frame.bottom - at.y()) / (frame.bottom - frame.top) * (y_high - y_low))
        else:
            self.zoom(factor, x_at=x_low + (at.x() - frame.left) / (frame.right - frame.left) * (x_high - x_low))

    def _show_curves(self) -> None:
        del self._inks[len(self._spec.curves) :]
        for curve, ink in zip(self._spec.curves, self._inks, strict=False):
            ink.show(curve)
        self._inks += [CurveInk(curve) for curve in self._spec.curves[len(self._inks) :]]

    def _lay_out(self) -> None:
        self._sheet.outer = QRectF(self.rect())
        key = (self._spec.x, self._spec.y, self._sheet.outer, self._view)
        if key != self._laid_out:
            self._laid_out = key
            self._sheet.frame, self._sheet.marks = lay_out(self._spec, self._sheet.outer, self._view)
        self.repaint_sheet()

    def _at_home(self, spec: PlotSpec) -> bool:
        home = (home_range(spec.x), home_range(spec.y))
        return all(
            abs(a - b) <= 1e-9 * (h[1] - h[0])
            for seen, h in zip(self.view(), home, strict=True)
            for a, b in zip(seen, h, strict=True)
        )

    def _picture_size(self) -> QSize:
        return self.size() + QSize(8, 70)

    def _ask_export(self) -> None:
        kinds = "Picture (*.png);;Drawing (*.svg);;Data (*.csv)"
        if impedance_curve(self._spec) is not None:
            kinds += ";;Impedance, Touchstone (*.s1p)"
        name, _ = QFileDialog.getSaveFileName(self, "Export plot", f"{self._spec.title}.png", kinds)
        if name:
            self.export(Path(name))


def _unit() -> View:
    return (0.0, 1.0), (0.0, 1.0)


def _kind(axis: AxisSpec) -> tuple[bool, str]:
    return axis.log, axis.unit


def _within(seen: tuple[float, float], limits: tuple[float, float]) -> tuple[float, float]:
    """Return a range moved, and if need be narrowed, into its limits."""
    most = limits[1] - limits[0]
    width = min(max(seen[1] - seen[0], _CLOSEST * most), most)
    middle = (seen[0] + seen[1]) / 2
    low = min(max(middle - width / 2, limits[0]), limits[1] - width)
    return low, low + width


def _scaled(seen: tuple[float, float], factor: float, at: float | None) -> tuple[float, float]:
    return seen if at is None else (at + (seen[0] - at) * factor, at + (seen[1] - at) * factor)


def _in_words(spec: PlotSpec) -> str:
    read = "; ".join(f"{r.label} {r.text}" for r in spec.readouts)
    return ". ".join(part for part in (spec.empty or spec.stale, spec.subtitle, spec.cursor_text, read) if part)
