"""A plot taken elsewhere: as a picture, as SVG, as numbers in CSV. Drawn with the screen's own functions."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, QSizeF
from PySide6.QtGui import QFontMetricsF, QImage, QPainter

from app.present.specs import AxisSpec, CurveSpec, PlotSpec
from app.qt.paint import SAMPLE_WIDTH, draw_sample, draw_text
from app.qt.plot.draw import lay_out
from app.qt.plot.geometry import View
from app.qt.plot.items import CurveInk, Sheet, draw_back, draw_curves, draw_top, place_all
from app.qt.svg import svg_text
from app.qt.theme import Theme, Type, font
from models.fitting.export import write_touchstone

_HEAD_PX = 34.0
_LEGEND_ROW_PX = 20.0
_LEGEND_PAD_PX = 12.0
_PICTURE_SCALE = 2
TOUCHSTONE = ".s1p"
_ALONG = {"Hz": "frequency", "s": "time", "F": "capacitance"}
"""What runs along the x axis, by its unit."""


def paint_chart(painter: QPainter, theme: Theme, spec: PlotSpec, size: QSizeF, view: View) -> None:
    """Paint a whole plot with its title and a legend, in logical pixels of the painter's device."""
    whole = QRectF(QPointF(0, 0), size)
    painter.fillRect(whole, theme.color("panel"))
    _draw_head(painter, theme, spec, whole)
    legend_height = _draw_legend(painter, theme, spec, whole)
    outer = whole.adjusted(8, _HEAD_PX, 0, -legend_height)
    frame, marks = lay_out(spec, outer, view)
    sheet = Sheet(theme, spec, outer, frame, marks)
    inks = [CurveInk(curve) for curve in spec.curves]
    place_all(sheet, inks)
    draw_back(painter, sheet)
    draw_curves(painter, sheet, inks)
    draw_top(painter, sheet)


def picture(theme: Theme, spec: PlotSpec, size: QSize, view: View) -> QImage:
    """Return a plot as an image at twice the screen's resolution."""
    image = QImage(size * _PICTURE_SCALE, QImage.Format.Format_ARGB32_Premultiplied)
    image.setDevicePixelRatio(_PICTURE_SCALE)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    paint_chart(painter, theme, spec, QSizeF(size), view)
    painter.end()
    return image


def write_svg(path: Path, theme: Theme, spec: PlotSpec, size: QSize, view: View) -> None:
    """Write a plot as SVG. Raises OSError where that fails."""
    whole = QSizeF(size)
    text = svg_text(whole, spec.title, lambda painter: paint_chart(painter, theme, spec, whole, view))
    path.write_text(text, encoding="utf-8")


def csv_text(spec: PlotSpec) -> str:
    """Return the curves as CSV: one x column where they share it, one for each where they do not."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    names: list[str] = []
    columns: list[list[str]] = []
    shared: CurveSpec | None = None
    for curve in spec.curves:
        if shared is None or not np.array_equal(shared.x, curve.x):
            names.append(_heading(_ALONG.get(spec.x.unit, "x"), spec.x))
            columns.append([repr(v) for v in curve.x.tolist()])
            shared = curve
        names.append(_heading(curve.label, spec.y))
        columns.append([repr(v) for v in curve.y.tolist()])
    writer.writerow(names)
    for row in range(max((len(c) for c in columns), default=0)):
        writer.writerow([c[row] if row < len(c) else "" for c in columns])
    return out.getvalue()


def write_file(path: Path, theme: Theme, spec: PlotSpec, size: QSize, view: View) -> None:
    """Write a plot as its file's ending says: .svg, .csv, .s1p, or a picture. Raises OSError where that fails."""
    ending = path.suffix.lower()
    if ending == TOUCHSTONE:
        write_impedance(path, spec)
    elif ending == ".csv":
        path.write_text(csv_text(spec), encoding="utf-8")
    elif ending == ".svg":
        write_svg(path, theme, spec, size, view)
    elif not picture(theme, spec, size, view).save(str(path)):
        raise OSError(f"{path}: cannot be written as a picture; .png, .svg and .csv can")


def impedance_curve(spec: PlotSpec) -> CurveSpec | None:
    """Return the curve whose impedance can be taken to another program: the strong one, else the first."""
    offered = [curve for curve in spec.curves if curve.z_ohm is not None]
    return next((curve for curve in offered if curve.strong), offered[0] if offered else None)


def write_impedance(path: Path, spec: PlotSpec) -> None:
    """Write the plot's impedance as a one-port Touchstone file. Raises OSError where that fails, or has none."""
    curve = impedance_curve(spec)
    if curve is None or curve.z_ohm is None:
        raise OSError(f"{path}: the plot shows no impedance that a Touchstone file could hold")
    write_touchstone(path, curve.x, curve.z_ohm)


def _heading(label: str, axis: AxisSpec) -> str:
    return f"{label} ({axis.unit})" if axis.unit else label


def _draw_head(painter: QPainter, theme: Theme, spec: PlotSpec, whole: QRectF) -> None:
    row = QRectF(16, 8, whole.width() - 32, 22)
    draw_text(painter, row, spec.title, face=font(Type.TITLE), color=theme.color("text"))
    title = QFontMetricsF(font(Type.TITLE)).horizontalAdvance(spec.title)
    draw_text(
        painter, row.adjusted(title + 14, 0, 0, 0), spec.subtitle, face=font(Type.SMALL), color=theme.color("muted")
    )


def _draw_legend(painter: QPainter, theme: Theme, spec: PlotSpec, whole: QRectF) -> float:
    """Draw the names of the curves at the foot, in as many rows as they need; return the height used."""
    face = font(Type.SMALL)
    metrics = QFontMetricsF(face)
    rows: list[list[tuple[float, CurveSpec]]] = [[]]
    x = 16.0
    for curve in (c for c in spec.curves if not c.faint):
        width = SAMPLE_WIDTH + 8 + metrics.horizontalAdvance(curve.label) + 20
        if rows[-1] and x + width > whole.width() - 16:
            rows.append([])
            x = 16.0
        rows[-1].append((x, curve))
        x += width
    height = len(rows) * _LEGEND_ROW_PX + _LEGEND_PAD_PX
    for index, row in enumerate(rows):
        middle = whole.height() - height + 6 + (index + 0.5) * _LEGEND_ROW_PX
        for left, curve in row:
            draw_sample(painter, theme, curve.ink, left, middle)
            place = QRectF(left + SAMPLE_WIDTH + 8, middle - 10, whole.width() - left, 20)
            draw_text(painter, place, curve.label, face=face, color=theme.color("text"))
    return height
