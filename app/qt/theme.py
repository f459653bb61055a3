"""One look for widgets, plots and drawings: colours by role, candidate inks, type scale, spacing."""

from __future__ import annotations

from enum import StrEnum
from functools import cache
from importlib.resources import files
from pathlib import Path

from attrs import frozen
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFont, QFontDatabase, QGuiApplication, QPen

from app.present.specs import Ink

FAMILIES = ("Inter", "DejaVu Sans")
"""DejaVu Sans stands in for the signs that Inter lacks, such as ∠ and ∥."""


class ThemeName(StrEnum):
    """The looks a person can choose."""

    SYSTEM = "system"
    LIGHT = "light"
    DARK = "dark"
    CONTRAST = "contrast"


class Type(StrEnum):
    """The one type scale."""

    TINY = "tiny"
    SMALL = "small"
    BODY = "body"
    STRONG = "strong"
    TITLE = "title"
    HEAD = "head"


_PIXELS = {Type.TINY: 11, Type.SMALL: 12, Type.BODY: 13, Type.STRONG: 13, Type.TITLE: 14, Type.HEAD: 17}
_WEIGHTS = {
    Type.STRONG: QFont.Weight.DemiBold,
    Type.TITLE: QFont.Weight.DemiBold,
    Type.HEAD: QFont.Weight.Bold,
}

# Each in units of the pen's width, so that a strong curve keeps its rhythm.
DASHES: tuple[tuple[float, ...], ...] = (
    (),
    (5.0, 2.5),
    (2.0, 2.0),
    (7.0, 2.0, 1.5, 2.0),
    (9.0, 2.5),
    (5.0, 2.0, 1.5, 2.0, 1.5, 2.0),
)


@frozen(kw_only=True)
class Space:
    """Distances in logical pixels; everything stands on a grid of 4."""

    xs: int = 4
    s: int = 8
    m: int = 12
    l: int = 16  # noqa: E741 - the size names read as a scale
    xl: int = 24
    radius: int = 8


SPACE = Space()
WINDOW_PX = (1440, 900)
"""The size that a window opens with."""
NO_LIMIT_PX = 16_777_215
"""The most that Qt takes for a width or a height: none is set."""


@frozen(kw_only=True)
class Theme:
    """Every colour by what it is for, as ``#rrggbb``; text roles keep 4.5:1 on what they stand on, marks 3:1."""

    name: ThemeName
    dark: bool
    window: str
    panel: str
    border: str
    rule: str
    """Hairlines between rows and the plot's grid."""
    text: str
    muted: str
    accent: str
    on_accent: str
    focus: str
    tint: str
    """Behind what is selected, and the unfilled part of a bar."""
    band: str
    """Behind a named range of a plot."""
    field: str
    field_border: str
    track: str
    """The unfilled part of a slider."""
    good: str
    bad: str
    caution: str
    copper: str
    board: str
    inks: tuple[str, ...]
    measured: str

    def color(self, role: str) -> QColor:
        """Return the colour of a role by its name, such as ``"muted"``."""
        return QColor(str(getattr(self, role)))

    def ink(self, ink: Ink) -> QColor:
        """Return the colour of a candidate or source, or of what was measured."""
        if ink.slot < 0:
            return QColor(self.measured)
        return QColor(self.inks[ink.slot % len(self.inks)])

    def dash(self, ink: Ink) -> tuple[float, ...]:
        """Return the dash of a candidate; a colour that comes a second time comes with another dash."""
        if ink.slot < 0:
            return ()
        return DASHES[(ink.slot + ink.slot // len(self.inks)) % len(DASHES)]

    def pen(self, ink: Ink, width: float = 1.0) -> QPen:
        """Return the line of a candidate, colour and dash together."""
        pen = QPen(self.ink(ink), width)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        if dash := self.dash(ink):
            pen.setDashPattern(dash)
        return pen


_LIGHT_INKS = ("#0072B2", "#B34F00", "#007A59", "#9A4C7F", "#8A6100", "#000000")
_DARK_INKS = ("#56B4E9", "#E69F00", "#2EBD8E", "#CC79A7", "#F07B3F", "#FFFFFF")

LIGHT = Theme(
    name=ThemeName.LIGHT,
    dark=False,
    window="#F5F4F0",
    panel="#FFFFFF",
    border="#E6E3DB",
    rule="#E2DFD8",
    text="#1B1D1F",
    muted="#62666B",
    accent="#0072B2",
    on_accent="#FFFFFF",
    focus="#0072B2",
    tint="#F0EEE8",
    band="#F0EEE8",
    field="#F7F6F2",
    field_border="#CBC6BA",
    track="#DDDAD2",
    good="#0B7A4B",
    bad="#B3261E",
    caution="#8A5A00",
    copper="#B87333",
    board="#E4EADC",
    inks=_LIGHT_INKS,
    measured="#6A3FC8",
)

DARK = Theme(
    name=ThemeName.DARK,
    dark=True,
    window="#16181B",
    panel="#1F2226",
    border="#2A2E33",
    rule="#353A40",
    text="#ECEDEE",
    muted="#A2A7AD",
    accent="#56B4E9",
    on_accent="#0E1113",
    focus="#56B4E9",
    tint="#2B2F34",
    band="#2A2D31",
    field="#17191C",
    field_border="#4A5057",
    track="#3A3E43",
    good="#4CC38A",
    bad="#FF8A80",
    caution="#F2B84B",
    copper="#CD8B4C",
    board="#24301F",
    inks=_DARK_INKS,
    measured="#B7A2FF",
)

CONTRAST = Theme(
    name=ThemeName.CONTRAST,
    dark=True,
    window="#000000",
    panel="#000000",
    border="#FFFFFF",
    rule="#7A7A7A",
    text="#FFFFFF",
    muted="#E4E4E4",
    accent="#6FD0FF",
    on_accent="#000000",
    focus="#FFE14A",
    tint="#333333",
    band="#262626",
    field="#000000",
    field_border="#FFFFFF",
    track="#8C8C8C",
    good="#5CF0A8",
    bad="#FF9C94",
    caution="#FFD166",
    copper="#F0A868",
    board="#1E3A14",
    inks=("#6FD0FF", "#FFB733", "#3FE0A8", "#F7A1D0", "#FF9A62", "#FFFFFF"),
    measured="#C9B8FF",
)


def system_theme() -> Theme:
    """Return the look the desktop asks for; light where it does not say."""
    return DARK if QGuiApplication.styleHints().colorScheme() == Qt.ColorScheme.Dark else LIGHT


def theme_named(name: ThemeName) -> Theme:
    """Return a look by its name, the desktop's own for ``system``."""
    return {ThemeName.LIGHT: LIGHT, ThemeName.DARK: DARK, ThemeName.CONTRAST: CONTRAST}.get(name) or system_theme()


@cache
def font(kind: Type) -> QFont:
    """Return a font of the type scale, with figures of equal width so that numbers do not jitter."""
    chosen = QFont()
    chosen.setFamilies(FAMILIES)
    chosen.setPixelSize(_PIXELS[kind])
    chosen.setWeight(_WEIGHTS.get(kind, QFont.Weight.Normal))
    chosen.setFeature(QFont.Tag("tnum"), 1)
    # contextual forms would show a typed 2x2 as 2×2
    chosen.setFeature(QFont.Tag("calt"), 0)
    return chosen


def font_folder() -> Path:
    """Return the folder of the bundled fonts, in the tree or in an installed package."""
    return Path(str(files("app"))).parent / "assets" / "fonts"


def load_fonts() -> tuple[str, ...]:
    """Give Qt the bundled fonts; return their family names."""
    families: set[str] = set()
    for path in sorted(font_folder().glob("*.[ot]tf")):
        families.update(QFontDatabase.applicationFontFamilies(QFontDatabase.addApplicationFont(str(path))))
    return tuple(sorted(families))
