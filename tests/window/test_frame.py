from __future__ import annotations

from pytestqt.qtbot import QtBot

from app.qt.frame import FrameTimer


def test_many_requests_are_one_piece_of_work(qtbot: QtBot) -> None:
    done: list[int] = []
    timer = FrameTimer(lambda: done.append(1))
    for _ in range(100):
        timer.request()
    assert timer.pending()
    assert done == []
    qtbot.waitUntil(lambda: bool(done))
    assert done == [1]
    assert not timer.pending()


def test_work_that_asks_again_gets_another_frame(qtbot: QtBot) -> None:
    done: list[int] = []

    def work() -> None:
        done.append(1)
        if len(done) < 3:
            timer.request()

    timer = FrameTimer(work)
    timer.request()
    qtbot.waitUntil(lambda: len(done) == 3)


def test_flush_and_cancel(qtbot: QtBot) -> None:
    done: list[int] = []
    timer = FrameTimer(lambda: done.append(1))
    timer.flush()
    assert done == []
    timer.request()
    timer.flush()
    assert done == [1]
    timer.request()
    timer.cancel()
    timer.flush()
    assert done == [1]
