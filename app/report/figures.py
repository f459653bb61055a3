"""The pictures of a report, painted by the screen's own functions in a theme for paper."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from app.present.section_specs import DrawingSpec, Measure
from app.report.blocks import Figure
from app.report.currents import DRAWN_WIDTH, WIDTH

if TYPE_CHECKING:
    from PySide6.QtGui import QPainter

    from app.qt.theme import Theme


@cache
def paper() -> Theme:
    """Return the look of print: white ground, dark texts and rules that survive a grey copy."""
    from attrs import evolve

    from app.qt.theme import LIGHT

    return evolve(
        LIGHT, window="#FFFFFF", panel="#FFFFFF", muted="#4A4E53", rule="#D5D5D5", band="#F1F1F1", tint="#EFEFEF"
    )


def text_width() -> Measure:
    """Return the measure of texts."""
    from PySide6.QtGui import QFontMetricsF

    from app.qt.theme import Type, font

    @cache
    def width(text: str, face: str) -> float:
        return QFontMetricsF(font(Type(face))).horizontalAdvance(text)

    return width


def paint(painter: QPainter, figure: Figure) -> None:
    """Paint a figure, its upper left corner at the origin."""
    from PySide6.QtCore import QSizeF

    from app.qt.plot.export import paint_chart
    from app.qt.plot.geometry import home_range
    from app.qt.section_draw import draw_section

    if isinstance(figure.spec, DrawingSpec):
        painter.scale(WIDTH / DRAWN_WIDTH, WIDTH / DRAWN_WIDTH)
        draw_section(painter, paper(), figure.spec)
        return
    size = QSizeF(WIDTH, figure.height)
    paint_chart(painter, paper(), figure.spec, size, (home_range(figure.spec.x), home_range(figure.spec.y)))


def svg(figure: Figure, number: int) -> str:
    """Return a figure as an SVG element that can stand in HTML, with its title for assistive tools."""
    from html import escape

    from PySide6.QtCore import QSizeF

    from app.qt.svg import svg_text

    text = svg_text(QSizeF(WIDTH, figure.height), "", lambda painter: paint(painter, figure))
    body = text[text.index("<defs>") if "<defs>" in text else text.index(">", text.index("<svg")) + 1 :]
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:g} {figure.height:g}" role="img" '
        f'aria-labelledby="figure-{number}-title">\n<title id="figure-{number}-title">{escape(figure.alt)}</title>\n'
    )
    return head + body
