"""Reading a pulse as a person reads it off a screen: top, times at shares of the top."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

Wave = Callable[[NDArray[np.float64]], NDArray[np.float64]]


class Screen:
    """A pulse sampled finely from its start."""

    def __init__(self, wave: Wave, stop_s: float, count: int = 200_001) -> None:
        self.t = np.linspace(0.0, stop_s, count)
        self.v = wave(self.t)
        self.best = int(np.argmax(self.v))

    def top(self) -> float:
        return float(self.v[self.best])

    def top_s(self) -> float:
        return float(self.t[self.best])

    def rising_s(self, share: float) -> float:
        return float(np.interp(share * self.top(), self.v[: self.best + 1], self.t[: self.best + 1]))

    def falling_s(self, share: float) -> float:
        return float(np.interp(-share * self.top(), -self.v[self.best :], self.t[self.best :]))

    def rise_s(self, low: float = 0.1, high: float = 0.9) -> float:
        return self.rising_s(high) - self.rising_s(low)

    def width_s(self) -> float:
        return self.falling_s(0.5) - self.rising_s(0.5)

    def slope(self) -> float:
        return float(np.max(np.diff(self.v)) / self.t[1])

    def area(self) -> float:
        return float(np.trapezoid(self.v, self.t))
