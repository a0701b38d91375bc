"""Figures with a range, and figures in three cases, with the few sums that balances need."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import NamedTuple


class Spread(NamedTuple):
    """A figure with its range, `low <= best <= high`, in whatever unit its owner says."""

    low: float
    best: float
    high: float

    def plus(self, other: Spread) -> Spread:
        """The sum, the worst cases taken together."""
        return Spread(self.low + other.low, self.best + other.best, self.high + other.high)

    def minus(self, other: Spread) -> Spread:
        """The difference, the worst cases taken together."""
        return Spread(self.low - other.high, self.best - other.best, self.high - other.low)

    def times(self, other: Spread) -> Spread:
        """The product of two figures that are not negative."""
        return Spread(self.low * other.low, self.best * other.best, self.high * other.high)

    def scaled(self, factor: float) -> Spread:
        """Every bound times a `factor` that is not negative."""
        return Spread(self.low * factor, self.best * factor, self.high * factor)

    def signed(self, sign: int) -> Spread:
        """Itself where `sign` is positive, else taken away: the ends change places."""
        return self if sign > 0 else Spread(-self.high, -self.best, -self.low)

    @classmethod
    def exactly(cls, value: float) -> Spread:
        """A figure with no range."""
        return cls(value, value, value)


NOTHING = Spread(0.0, 0.0, 0.0)


def total(spreads: Iterable[Spread]) -> Spread:
    """The sum of many; nothing for none."""
    low = best = high = 0.0
    for spread in spreads:
        low += spread[0]
        best += spread[1]
        high += spread[2]
    return Spread(low, best, high)


class Cases(NamedTuple):
    """One share reckoned three times over: where loss is fast, as expected, and slow.

    A case never mixes with another, so what leaves one place is what comes to the next, in each of the three.
    """

    fast: float
    best: float
    slow: float

    def plus(self, other: Cases) -> Cases:
        """The sum, case by case."""
        return Cases(self.fast + other.fast, self.best + other.best, self.slow + other.slow)

    def minus(self, other: Cases) -> Cases:
        """The difference, case by case."""
        return Cases(self.fast - other.fast, self.best - other.best, self.slow - other.slow)

    def scaled(self, factor: float) -> Cases:
        """Every case times `factor`."""
        return Cases(self.fast * factor, self.best * factor, self.slow * factor)

    def each(self, change: Callable[[float], float]) -> Cases:
        """Every case through `change`."""
        return Cases(change(self.fast), change(self.best), change(self.slow))

    @property
    def spread(self) -> Spread:
        """The cases as a range around the expected one."""
        return Spread(min(self), self.best, max(self))


NONE = Cases(0.0, 0.0, 0.0)
ALL = Cases(1.0, 1.0, 1.0)
