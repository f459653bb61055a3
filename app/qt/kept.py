"""A part of a widget kept as a picture, painted anew only when what it shows is another."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QSizeF, Qt
from PySide6.QtGui import QImage, QPainter


class KeptPicture:
    """Puts a part onto the screen from memory for as long as its key is the same."""

    def __init__(self) -> None:
        self._key: tuple[object, ...] = ()
        # an image rather than a pixmap: it may outlive the application
        self._image = QImage()

    def paint(self, painter: QPainter, size: QSizeF, key: object, draw: Callable[[QPainter], None]) -> None:
        """Paint the part from the origin on: from memory, or with ``draw`` where the key or the screen is another."""
        ratio = painter.device().devicePixelRatioF()
        wanted = (key, ratio, size.width(), size.height())
        if wanted != self._key:
            self._key = wanted
            self._image = _picture(size, ratio, draw)
        painter.drawImage(0, 0, self._image)


def _picture(size: QSizeF, ratio: float, draw: Callable[[QPainter], None]) -> QImage:
    picture = QImage((size * ratio).toSize(), QImage.Format.Format_ARGB32_Premultiplied)
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    draw(painter)
    painter.end()
    return picture
