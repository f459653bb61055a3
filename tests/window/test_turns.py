from __future__ import annotations

from collections.abc import Callable

from app.qt.turns import Piece, Turns


class Window:
    """Parts that take a while to show, and a clock that only their work moves on."""

    def __init__(self) -> None:
        self.now_s = 0.0
        self.document = 0
        self.shown: list[str] = []
        self.unfinished: dict[str, int] = {}
        self.turns = Turns(lambda: self.now_s)

    def piece(self, name: str, work_s: float, weight: int = 1) -> Piece:
        return Piece(name=name, key=lambda: (self.document,), render=self._work(name, work_s), weight=weight)

    def _work(self, name: str, work_s: float) -> Callable[[], bool]:
        def render() -> bool:
            self.now_s += work_s
            self.shown.append(name)
            self.unfinished[name] = self.unfinished.get(name, 0) - 1
            return self.unfinished[name] < 0

        return render

    def frame(self, *pieces: Piece, hurried: bool) -> list[str]:
        self.shown.clear()
        self.whole = self.turns.run(pieces, hurried=hurried)
        return list(self.shown)


def test_without_a_hurry_all_that_is_due_is_shown_in_its_order() -> None:
    window = Window()
    pieces = [window.piece(name, 1.0) for name in ("a", "b", "c")]
    assert window.frame(*pieces, hurried=False) == ["a", "b", "c"]
    assert window.whole
    assert window.frame(*pieces, hurried=False) == []


def test_in_a_hurry_one_long_part_is_shown_a_frame_and_each_gets_its_turn() -> None:
    window = Window()
    pieces = [window.piece("knob", 1e-4, weight=0), *(window.piece(name, 5e-3) for name in ("a", "b", "c"))]
    seen = []
    for _ in range(6):
        window.document += 1
        seen.append(window.frame(*pieces, hurried=True))
        assert not window.whole
    assert seen == [["knob", each] for each in ("a", "b", "c", "a", "b", "c")]


def test_the_weightier_part_is_shown_more_often_and_nobody_starves() -> None:
    window = Window()
    pieces = [window.piece("plot", 5e-3, weight=3), *(window.piece(name, 5e-3) for name in ("a", "b", "c"))]
    seen: list[str] = []
    for _ in range(40):
        window.document += 1
        seen += window.frame(*pieces, hurried=True)
    assert seen.count("plot") >= 12
    assert all(seen.count(name) >= 6 for name in ("a", "b", "c"))


def test_where_there_is_time_several_are_shown() -> None:
    window = Window()
    pieces = [window.piece(name, 1e-4) for name in ("a", "b", "c")]
    assert window.frame(*pieces, hurried=True) == ["a", "b", "c"]
    assert window.whole


def test_after_the_last_move_all_is_caught_up_with() -> None:
    window = Window()
    pieces = [window.piece(name, 5e-3) for name in ("a", "b", "c", "d")]
    frames = 0
    while not window.turns.run(pieces, hurried=True):
        frames += 1
    assert frames == 3
    assert sorted(window.shown) == ["a", "b", "c", "d"]


def test_what_needs_further_turns_stays_due() -> None:
    window = Window()
    window.unfinished["a"] = 2
    piece = window.piece("a", 1e-4)
    assert [window.frame(piece, hurried=True) for _ in range(4)] == [["a"], ["a"], ["a"], []]
    assert window.whole


def test_a_part_that_is_forgotten_is_due_again() -> None:
    window = Window()
    piece = window.piece("a", 1e-4)
    window.frame(piece, hurried=False)
    window.turns.forget("a")
    assert window.frame(piece, hurried=False) == ["a"]
