"""Slows down whoever guesses."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from typing import Final

FREE_TRIES: Final = 5
LONGEST_S: Final = 300.0
_FORGET_S: Final = 3600.0
_MOST_KEPT: Final = 10_000


class Throttle:
    """After five wrong tries, waits of 1, 2, 4 … seconds, up to five minutes.

    Parameters
    ----------
    clock : callable
        Seconds, from anywhere on.
    """

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._wrong: dict[str, tuple[int, float]] = {}
        self._lock = threading.Lock()

    def wait_s(self, who: str, /) -> float:
        """How long this one has to wait before the next try; 0 when it may try."""
        with self._lock:
            count, last = self._wrong.get(who, (0, 0.0))
            if count < FREE_TRIES:
                return 0.0
            pause = min(2.0 ** min(count - FREE_TRIES, 20), LONGEST_S)
            return max(0.0, last + pause - self._clock())

    def wrong(self, who: str, /) -> None:
        """A try was wrong."""
        with self._lock:
            now = self._clock()
            if len(self._wrong) >= _MOST_KEPT:
                self._wrong = {
                    name: kept for name, kept in self._wrong.items() if now - kept[1] < _FORGET_S
                }
            count, last = self._wrong.get(who, (0, now))
            count = 0 if now - last > _FORGET_S else count
            self._wrong[who] = (count + 1, now)

    def right(self, who: str, /) -> None:
        """A try was right: forget the wrong ones."""
        with self._lock:
            self._wrong.pop(who, None)
