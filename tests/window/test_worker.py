"""Work in another thread says nothing to a window that is gone."""

from __future__ import annotations

import threading
from concurrent.futures import ThreadPoolExecutor

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QApplication

from app.qt.worker import Tell, Worker

_SOON_S, _LATE_S = 0.1, 10.0


def test_work_is_not_given_up_in_the_middle_of_a_word(qapp: QApplication) -> None:
    speaking, spoken = threading.Event(), threading.Event()
    executor = ThreadPoolExecutor(max_workers=1)
    worker = Worker(lambda _request, _tell: None, executor)

    def listen(*_: object) -> None:
        speaking.set()
        spoken.wait(_LATE_S)

    worker._arrived.connect(listen, Qt.ConnectionType.DirectConnection)
    worker.ask(1)
    assert speaking.wait(_LATE_S)
    closing = threading.Thread(target=worker.close)
    closing.start()
    closing.join(_SOON_S)
    waited = closing.is_alive()
    spoken.set()
    closing.join(_LATE_S)
    # the thread holds the worker too, and must not be the one that lets it go
    executor.shutdown(wait=True)
    assert waited
    assert not closing.is_alive()


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
