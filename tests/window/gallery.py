"""Every widget of the kit on one sheet with made-up contents, to test it together and to look at it."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.qt.bars import BarsView
from app.qt.header import Header
from app.qt.inspector import Inspector
from app.qt.panel import ModeSwitch, Panel
from app.qt.plot.view import PlotView
from app.qt.table import AnswersView
from app.qt.theme import SPACE, Theme
from tests.window import made_up


class Gallery(QWidget):
    """The kit on one sheet."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.header = Header(theme)
        self.impedance, self.waveform = PlotView(theme), PlotView(theme)
        self.bars, self.answers, self.inspector = BarsView(theme), AnswersView(theme), Inspector(theme)
        self.mode = ModeSwitch("Impedance shown", ("in circuit", "bridge alone"))
        left, right, low, side = (Panel(theme) for _ in range(4))
        left.add(self.impedance, stretch=1)
        left.add_tool(self.mode)
        right.add(self.waveform, stretch=1)
        right.add(self.bars)
        low.add(self.answers, stretch=1)
        side.add(self.inspector, stretch=1)
        side.setFixedWidth(324)
        left.show_title("Impedance between the regions", "seen by the noise")
        right.show_title("Common-mode voltage, secondary to primary")
        upper = QHBoxLayout()
        upper.addWidget(left, 3)
        upper.addWidget(right, 2)
        sheet = QVBoxLayout()
        sheet.addLayout(upper, 3)
        sheet.addWidget(low, 2)
        across = QHBoxLayout()
        across.setContentsMargins(SPACE.l, SPACE.m, SPACE.l, SPACE.l)
        across.setSpacing(SPACE.m)
        across.addLayout(sheet, 1)
        across.addWidget(side)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.header)
        whole.addLayout(across, 1)
        self.render_all()

    def render_all(self) -> None:
        self.header.render(made_up.header())
        self.impedance.render(made_up.impedance())
        self.waveform.render(made_up.waveform())
        self.bars.render(made_up.bars())
        self.answers.render(made_up.answers())
        self.inspector.render(made_up.form())
        self.mode.show_choice("in circuit")
