"""What was put in (a pocket of food, a layer of bedding, grit) and how much of it is still there."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from assistant.balance.conversion import Substance, Weight
from assistant.balance.spread import ALL, NONE, Cases, Spread
from assistant.records import Amount

Role: TypeAlias = Literal["food", "bedding", "amendment"]


@dataclass(frozen=True, slots=True)
class Portion:
    """What one record put in, or the share of it that lies here after moves.

    `left` and `worked` are shares of the amount as put in: what is uneaten, and what worms and microbes have
    worked through, both as they stood when the bin's clock showed `since` (days at the reference heat).
    Over every place that it was moved to, the two sum to one: nothing is made or lost by moving.
    """

    record: str
    day: int
    role: Role
    item: str | None
    name: str
    spot: str | None
    amount: Amount | None
    weight: Weight | None
    substance: Substance
    since: float
    left: Cases = ALL
    worked: Cases = NONE

    @property
    def here(self) -> Cases:
        """The share of the amount as put in that lies here, uneaten or worked through."""
        return self.left.plus(self.worked)

    def at(self, clock: float) -> Portion:
        """The same portion when the bin's clock shows `clock`: first-order loss since."""
        rate, days = self.substance.rate, clock - self.since
        if rate is None or days <= 0:
            return self
        fast, best, slow = rate.most, rate.value, rate.least
        left = Cases(
            self.left.fast * math.exp(-fast * days),
            self.left.best * math.exp(-best * days),
            self.left.slow * math.exp(-slow * days),
        )
        return replace(self, left=left, worked=self.here.minus(left), since=clock)

    def seen(self, share: float, clock: float) -> Portion:
        """The same portion after a look: `share` of what was put here is uneaten."""
        here = self.here
        left = here.scaled(share)
        return replace(self, left=left, worked=here.minus(left), since=clock)

    def split(self, fraction: float, clock: float) -> tuple[Portion, Portion]:
        """(what stays, what is taken): `fraction` of the uneaten part goes, what is worked through stays."""
        now = self.at(clock)
        taken = now.left.scaled(fraction)
        return replace(now, left=now.left.minus(taken)), replace(now, left=taken, worked=NONE)

    def kilograms(self, share: Cases) -> Spread | None:
        """`share` of the amount in kg of fresh material; None where its weight cannot be told."""
        if self.amount is None or self.weight is None:
            return None
        amount = Spread(self.amount.low, self.amount.best, self.amount.high)
        return amount.times(self.weight.kg).times(share.spread)

    @property
    def units_left(self) -> Amount | None:
        """What is uneaten, in the keeper's own unit."""
        if self.amount is None:
            return None
        low, best, high = Spread(self.amount.low, self.amount.best, self.amount.high).times(self.left.spread)
        return Amount(low, best, high, self.amount.unit)
