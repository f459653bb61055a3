"""What is painted, as SVG: its texts as wide as they were laid out, whatever fonts the reader's machine has."""

from __future__ import annotations

import re
from collections.abc import Callable
from html import unescape

from PySide6.QtCore import QBuffer, QIODevice, QPointF, QRectF, QSizeF
from PySide6.QtGui import QFont, QFontMetricsF, QPainter
from PySide6.QtSvg import QSvgGenerator

from app.qt.theme import Type, font

_DPI = 96
_TEXT = re.compile(r'<text ([^>]*font-size="([0-9.]+)" font-weight="([0-9]+)"[^>]*)>([^<]*)</text>')


def svg_text(size: QSizeF, title: str, paint: Callable[[QPainter], None]) -> str:
    """Return what a function paints, in logical pixels, as a whole SVG file."""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    device = QSvgGenerator()
    device.setOutputDevice(buffer)
    device.setTitle(title)
    device.setSize(size.toSize())
    device.setViewBox(QRectF(QPointF(0.0, 0.0), size))
    device.setResolution(_DPI)
    painter = QPainter(device)
    paint(painter)
    painter.end()
    return _TEXT.sub(_held, bytes(buffer.data().data()).decode())


def _held(match: re.Match[str]) -> str:
    """Return a text that is drawn as wide as it is here."""
    how, pixels, weight, words = match.groups()
    face = QFont(font(Type.SMALL))
    face.setPixelSize(round(float(pixels)))
    face.setWeight(QFont.Weight(int(weight)))
    width = QFontMetricsF(face).horizontalAdvance(unescape(words))
    held = f'textLength="{width:.1f}" lengthAdjust="spacingAndGlyphs" ' if width > 0.0 else ""
    return f"<text {held}{how}>{words}</text>"
