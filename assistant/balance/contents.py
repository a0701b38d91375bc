"""What lies in a place on a day: heaps in the keeper's own units and in kilograms."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from assistant.balance.portions import Portion
from assistant.balance.spread import NOTHING, Spread, total
from assistant.balance.state import Balances, BinState, Place
from assistant.records import Amount


@dataclass(frozen=True, slots=True)
class Heap:
    """Portions taken together: put in and left, in their own units; those with no amount; weight left.

    `kg` is None where no amount can be weighed; `unweighed` counts portions whose amount could not be.
    """

    put_in: tuple[Amount, ...]
    left: tuple[Amount, ...]
    uncounted: tuple[str, ...]
    kg: Spread | None
    unweighed: int
    records: tuple[str, ...]


def heap(portions: Iterable[Portion], least: float = 0.0) -> Heap:
    """Portions taken together; one of which less than the share `least` is uneaten is left out."""
    waiting = [portion for portion in portions if portion.left.best > least]
    counted = [portion for portion in waiting if portion.of.amount]
    kilos = [portion.kilograms(portion.left) for portion in counted]
    weighed = [one for one in kilos if one]
    return Heap(
        summed(portion.of.amount for portion in counted if portion.of.amount),
        summed(left for portion in counted if (left := portion.units_left)),
        tuple(portion.of.record for portion in waiting if not portion.of.amount),
        total(weighed) if weighed else None,
        len(waiting) - len(weighed),
        tuple(dict.fromkeys(portion.of.record for portion in waiting)),
    )


def summed(amounts: Iterable[Amount]) -> tuple[Amount, ...]:
    """One amount for each unit, in the order in which the units first came."""
    sums: dict[str, Spread] = {}
    for amount in amounts:
        spread = Spread(amount.low, amount.best, amount.high)
        sums[amount.unit] = sums.get(amount.unit, NOTHING).plus(spread)
    return tuple(Amount(*spread, unit) for unit, spread in sums.items())


def standing(books: Balances, bin_: BinState, place: Place) -> list[Portion]:
    """The portions of a place as they stand on the day of the balances."""
    clock = bin_.clock.at(books.now.toordinal())
    return [portion.at(clock) for portion in place.portions()]
