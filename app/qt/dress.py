"""A theme put on Qt's own widgets: Fusion, palette, font and style sheet."""

from __future__ import annotations

from string import Template

from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QApplication

from app.qt.theme import Theme, Type, font

# Widths and paddings make the focus ring take the place of the border, so that nothing moves when it comes.
_SHEET = Template("""
QToolTip { color: $text; background: $panel; border: 1px solid $field_border; padding: 4px 6px; }
QLabel { background: transparent; }
QLabel[role="muted"] { color: $muted; }
QLabel[role="bad"] { color: $bad; }
QLabel[role="caution"] { color: $caution; }
QLabel[role="accent"] { color: $accent; }
QFrame[rule="true"] { background: $rule; border: none; }
QFrame[floating="true"] { background: $panel; border: 1px solid $bad; border-radius: 8px; }
QLineEdit, QComboBox {
    background: $field; color: $text; border: 1px solid $field_border; border-radius: 6px;
    padding: 3px 8px; min-height: 18px; selection-background-color: $accent; selection-color: $on_accent;
}
QPlainTextEdit {
    background: $field; color: $text; border: 1px solid $field_border; border-radius: 6px; padding: 2px 4px;
    selection-background-color: $accent; selection-color: $on_accent;
}
QPlainTextEdit:focus { border: 2px solid $focus; padding: 1px 3px; }
QLineEdit:focus, QComboBox:focus { border: 2px solid $focus; padding: 2px 7px; }
QLineEdit[wrong="true"] { border: 2px solid $bad; padding: 2px 7px; }
QComboBox { combobox-popup: 0; }
QComboBox QAbstractItemView::item { padding: 3px 8px; }
QComboBox::drop-down { border: none; width: 20px; }
QComboBox::down-arrow { image: none; }
QComboBox QAbstractItemView {
    background: $panel; color: $text; border: 1px solid $field_border; outline: none;
    selection-background-color: $tint; selection-color: $text;
}
QToolButton, QPushButton {
    background: transparent; color: $text; border: 1px solid transparent; border-radius: 6px; padding: 4px 8px;
}
QToolButton:hover, QPushButton:hover { background: $tint; }
QToolButton:pressed, QPushButton:pressed, QToolButton:checked { background: $tint; border-color: $field_border; }
QToolButton:focus, QPushButton:focus { border: 2px solid $focus; padding: 3px 7px; }
QToolButton:disabled, QPushButton:disabled { color: $muted; background: transparent; }
QToolButton[quiet="true"] { color: $muted; padding: 2px 6px; }
QToolButton[quiet="true"]:hover { color: $text; }
QToolButton[quiet="true"]:focus { padding: 1px 5px; }
QToolButton[quiet="true"]:checked { color: $text; background: $tint; border-color: transparent; }
QToolButton[quiet="true"]:checked:focus { border-color: $focus; }
QToolButton::menu-indicator { image: none; }
QToolButton[round="true"] { border: 1px solid $field_border; border-radius: 14px; padding: 0; }
QToolButton[round="true"]:focus { border: 2px solid $focus; }
QPushButton[main="true"] { background: $accent; color: $on_accent; }
QPushButton { border-color: $field_border; }
QPushButton:checked { background: $tint; border-color: $accent; }
QPushButton[main="true"]:disabled { background: $track; color: $muted; }
QProgressBar {
    background: $track; color: $text; border: none; border-radius: 4px; text-align: center; font-size: 11px;
}
QProgressBar::chunk { background: $accent; border-radius: 4px; }
QMenu { background: $panel; color: $text; border: 1px solid $field_border; padding: 4px; }
QMenu::item { padding: 5px 20px 5px 12px; border-radius: 4px; }
QMenu::item:selected { background: $tint; }
QMenu::item:disabled { color: $muted; }
QMenu::separator { height: 1px; background: $rule; margin: 4px 8px; }
QListWidget { background: $field; border: 1px solid $field_border; border-radius: 6px; padding: 3px; outline: none; }
QListWidget:focus { border: 2px solid $focus; padding: 2px; }
QListWidget::item { color: $text; padding: 5px 8px; border-left: 3px solid transparent; }
QListWidget::item:hover { background: $tint; }
QListWidget::item:selected { background: $tint; color: $text; border-left: 3px solid $accent; }
QTableView, QHeaderView, QTableView QTableCornerButton::section { background: $panel; border: none; }
QScrollArea, QScrollArea > QWidget > QWidget { background: transparent; border: none; }
QSplitter::handle:hover, QSplitter::handle:pressed { background: $tint; border-radius: 4px; }
QScrollBar { background: transparent; border: none; }
QScrollBar:vertical { width: 10px; }
QScrollBar:horizontal { height: 10px; }
QScrollBar::handle { background: $track; border-radius: 3px; margin: 2px; min-height: 28px; min-width: 28px; }
QScrollBar::handle:hover { background: $muted; }
QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }
QAbstractScrollArea::corner { background: transparent; border: none; }
QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }
""")


def palette(theme: Theme) -> QPalette:
    """Return Qt's palette for a look, for all that the style sheet does not name."""
    roles = QPalette.ColorRole
    result = QPalette()
    for role, name in (
        (roles.Window, "window"),
        (roles.WindowText, "text"),
        (roles.Base, "panel"),
        (roles.AlternateBase, "tint"),
        (roles.Text, "text"),
        (roles.Button, "panel"),
        (roles.ButtonText, "text"),
        (roles.BrightText, "bad"),
        (roles.Highlight, "accent"),
        (roles.HighlightedText, "on_accent"),
        (roles.ToolTipBase, "panel"),
        (roles.ToolTipText, "text"),
        (roles.PlaceholderText, "muted"),
        (roles.Link, "accent"),
        (roles.Mid, "border"),
        (roles.Dark, "muted"),
    ):
        result.setColor(role, theme.color(name))
    for role in (roles.WindowText, roles.Text, roles.ButtonText):
        result.setColor(QPalette.ColorGroup.Disabled, role, theme.color("muted"))
    return result


def boxes_palette(palette: QPalette, theme: Theme) -> QPalette:
    """Return a palette in which a box to tick has an outline that is seen: Fusion darkens the window's colour."""
    palette.setColor(QPalette.ColorRole.Window, theme.color("muted").lighter(140))
    palette.setColor(QPalette.ColorRole.Base, theme.color("field"))
    return palette


def stylesheet(theme: Theme) -> str:
    """Return the style sheet of a look."""
    return _SHEET.substitute({role: theme.color(role).name() for role in _roles()})


def apply_theme(app: QApplication, theme: Theme) -> None:
    """Dress a whole application: Fusion, palette, font, style sheet."""
    app.setStyle("Fusion")
    app.setPalette(palette(theme))
    app.setFont(font(Type.BODY))
    app.setStyleSheet(stylesheet(theme))


def _roles() -> tuple[str, ...]:
    return tuple(match for match in _SHEET.get_identifiers() if match)
