"""What was put in (a pocket of food, a layer of bedding, grit) and how much of it is still there."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, NamedTuple, TypeAlias

from assistant.balance.conversion import Substance, Weight
from assistant.balance.spread import ALL, NONE, Cases, Spread
from assistant.records import Amount

Role: TypeAlias = Literal["food", "bedding", "amendment"]


@dataclass(frozen=True, slots=True)
class PutIn:
    """What one record put in, as it was said, with what the lexicon knows of it."""

    record: str
    day: int
    role: Role
    item: str | None
    name: str
    spot: str | None
    amount: Amount | None
    weight: Weight | None
    substance: Substance

    @property
    def kilograms(self) -> Spread | None:
        """All of it in kg of fresh material; None where its weight cannot be told."""
        amount = self.amount
        if amount is None or self.weight is None:
            return None
        return self.weight.kg.times(Spread(amount.low, amount.best, amount.high))


class Portion(NamedTuple):
    """What was put in, or the share of it that lies here after moves.

    `left` and `worked` are shares of the amount as put in: what is uneaten, and what worms and microbes have
    worked through, both as they stood when the bin's clock showed `since` (days at the reference heat).
    Over every place that it was moved to, the two sum to one: nothing is made or lost by moving.
    """

    of: PutIn
    since: float
    left: Cases = ALL
    worked: Cases = NONE

    @property
    def here(self) -> Cases:
        """The share of the amount as put in that lies here, uneaten or worked through."""
        return self.left.plus(self.worked)

    def at(self, clock: float) -> Portion:
        """The same portion when the bin's clock shows `clock`: first-order loss since."""
        rate, days = self.of.substance.rate, clock - self.since
        if rate is None or days <= 0:
            return self
        left = Cases(
            self.left.fast * math.exp(-rate.most * days),
            self.left.best * math.exp(-rate.value * days),
            self.left.slow * math.exp(-rate.least * days),
        )
        return Portion(self.of, clock, left, self.here.minus(left))

    def seen(self, share: float, clock: float) -> Portion:
        """The same portion after a look: `share` of what was put here is uneaten."""
        here = self.here
        left = here.scaled(share)
        return Portion(self.of, clock, left, here.minus(left))

    def split(self, fraction: float, clock: float) -> tuple[Portion, Portion]:
        """(what stays, what is taken): `fraction` of the uneaten part goes, what is worked through stays."""
        now = self.at(clock)
        taken = now.left.scaled(fraction)
        stays = Portion(self.of, now.since, now.left.minus(taken), now.worked)
        return stays, Portion(self.of, now.since, taken, NONE)

    def kilograms(self, share: Cases) -> Spread | None:
        """`share` of the amount in kg of fresh material; None where its weight cannot be told."""
        whole = self.of.kilograms
        return whole.times(share.spread) if whole else None

    @property
    def units_left(self) -> Amount | None:
        """What is uneaten, in the keeper's own unit."""
        amount = self.of.amount
        if amount is None:
            return None
        low, best, high = Spread(amount.low, amount.best, amount.high).times(self.left.spread)
        return Amount(low, best, high, amount.unit)
