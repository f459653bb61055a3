"""Work in another thread says nothing to a window that is gone."""

from __future__ import annotations

import threading
from concurrent.futures import ThreadPoolExecutor

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication

from app.qt.worker import Stopped, Tell, Worker, _Gate

_SOON_S, _LATE_S = 0.1, 10.0


def test_work_is_not_given_up_in_the_middle_of_a_word() -> None:
    speaking, spoken = threading.Event(), threading.Event()
    gate = _Gate()

    def say() -> None:
        speaking.set()
        spoken.wait(_LATE_S)

    saying = threading.Thread(target=gate.hand_over, args=(gate.number, say))
    shutting = threading.Thread(target=gate.shut)
    saying.start()
    assert speaking.wait(_LATE_S)
    shutting.start()
    shutting.join(_SOON_S)
    waited = shutting.is_alive()
    spoken.set()
    for each in (saying, shutting):
        each.join(_LATE_S)
    assert waited
    assert gate.number == 1
    with pytest.raises(Stopped):
        gate.hand_over(0, say)


@pytest.mark.parametrize("closed", [True, False])
def test_work_ends_where_its_window_is_gone(qapp: QApplication, closed: bool) -> None:
    begun, gone = threading.Event(), threading.Event()
    reached: list[str] = []

    def work(_request: object, tell: Tell) -> None:
        begun.set()
        gone.wait(_LATE_S)
        tell("of no use to anyone")
        reached.append("told")

    executor = ThreadPoolExecutor(max_workers=1)
    worker = Worker(work, executor)
    worker.ask(1)
    assert begun.wait(_LATE_S)
    if closed:
        worker.close()
    worker.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    gone.set()
    executor.shutdown(wait=True)
    assert reached == []
