from __future__ import annotations

import pytest
from PySide6.QtGui import QColor, QFontInfo
from PySide6.QtWidgets import QApplication

from app.present.specs import Ink
from app.qt.dress import apply_theme, stylesheet
from app.qt.theme import CONTRAST, DARK, LIGHT, Theme, ThemeName, Type, font, theme_named

THEMES = (LIGHT, DARK, CONTRAST)
SURFACES = ("panel", "tint", "window")


def contrast(a: QColor, b: QColor) -> float:
    """Contrast ratio of WCAG 2.2: (L1 + 0.05) / (L2 + 0.05) with relative luminances."""
    light, dark = sorted((luminance(a), luminance(b)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def luminance(color: QColor) -> float:
    red, green, blue = (linear(c) for c in (color.redF(), color.greenF(), color.blueF()))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def linear(part: float) -> float:
    return part / 12.92 if part <= 0.04045 else float(((part + 0.055) / 1.055) ** 2.4)


def test_contrast_is_the_standards() -> None:
    assert contrast(QColor("#000000"), QColor("#FFFFFF")) == pytest.approx(21.0)
    assert contrast(QColor("#767676"), QColor("#FFFFFF")) == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("theme", THEMES, ids=lambda t: t.name)
@pytest.mark.parametrize("surface", SURFACES)
@pytest.mark.parametrize("role", ["text", "muted", "good", "bad"])
def test_text_can_be_read_on_every_surface(theme: Theme, surface: str, role: str) -> None:
    assert contrast(theme.color(role), theme.color(surface)) >= 4.5


@pytest.mark.parametrize("theme", THEMES, ids=lambda t: t.name)
@pytest.mark.parametrize("surface", ["panel", "band", "tint"])
def test_curves_and_focus_stand_out(theme: Theme, surface: str) -> None:
    marks = [theme.ink(Ink(slot=k)) for k in range(-1, 6)] + [theme.color("focus"), theme.color("accent")]
    assert min(contrast(mark, theme.color(surface)) for mark in marks) >= 3.0


@pytest.mark.parametrize("theme", THEMES, ids=lambda t: t.name)
def test_words_in_an_ink_can_be_read(theme: Theme) -> None:
    assert min(contrast(theme.ink(Ink(slot=k)), theme.color("panel")) for k in range(-1, 6)) >= 4.5


@pytest.mark.parametrize("theme", THEMES, ids=lambda t: t.name)
def test_candidates_differ_in_more_than_colour(theme: Theme) -> None:
    inks = [Ink(slot=k) for k in range(30)]
    assert theme.ink(Ink(slot=-1)).name() not in {theme.ink(ink).name() for ink in inks}
    assert len({theme.dash(ink) for ink in inks[:6]}) == 6
    assert len({(theme.ink(ink).name(), theme.dash(ink)) for ink in inks}) == 30


def test_the_bundled_fonts_are_used(fonts: tuple[str, ...]) -> None:
    assert {"Inter", "DejaVu Sans"} <= set(fonts)
    assert QFontInfo(font(Type.BODY)).family() == "Inter"
    assert QFontInfo(font(Type.STRONG)).bold()


def test_figures_have_one_width(qapp: QApplication, fonts: tuple[str, ...]) -> None:
    from PySide6.QtGui import QFontMetricsF

    metrics = QFontMetricsF(font(Type.STRONG))
    assert metrics.horizontalAdvance("111.1") == pytest.approx(metrics.horizontalAdvance("888.8"))


def test_a_theme_dresses_the_application(qapp: QApplication) -> None:
    apply_theme(qapp, DARK)
    assert qapp.palette().window().color() == DARK.color("window")
    assert DARK.color("field").name() in qapp.styleSheet()
    assert "$" not in stylesheet(CONTRAST)


def test_themes_by_name(qapp: QApplication) -> None:
    assert theme_named(ThemeName.DARK) is DARK
    assert theme_named(ThemeName.CONTRAST) is CONTRAST
    assert theme_named(ThemeName.SYSTEM) in (LIGHT, DARK)
