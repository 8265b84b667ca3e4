"""How much of one resource is in use over time, and where a use still fits. Pure."""

from __future__ import annotations

from bisect import bisect_right


class Timeline:
    """Steps of use: from each moment on, so much is in use until the next moment."""

    def __init__(self, capacity: int) -> None:
        """Begin with nothing in use."""
        self.capacity = capacity
        self._moments = [0]
        self._in_use = [0]

    def first_fit(self, earliest: int, *, minutes: int, amount: int) -> int:
        """Return the first start from `earliest` on at which `amount` is free for `minutes`.

        `amount` must not be above the capacity.
        """
        start = earliest
        place = bisect_right(self._moments, start) - 1
        while place < len(self._moments) and self._moments[place] < start + minutes:
            if self._in_use[place] + amount > self.capacity:
                start = self._moments[place + 1]
            place += 1
        return start

    def take(self, start: int, *, minutes: int, amount: int) -> None:
        """Put `amount` in use from `start` for `minutes`; a negative amount gives it back."""
        if minutes == 0 or amount == 0:
            return
        for place in range(self._cut(start), self._cut(start + minutes)):
            self._in_use[place] += amount

    def _cut(self, moment: int) -> int:
        """Return the place of the step that begins at `moment`, cut there if none did."""
        place = bisect_right(self._moments, moment) - 1
        if self._moments[place] == moment:
            return place
        self._moments.insert(place + 1, moment)
        self._in_use.insert(place + 1, self._in_use[place])
        return place + 1
