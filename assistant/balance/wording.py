"""Amounts, ranges and days in plain words, the keeper's own units first."""

from __future__ import annotations

from collections.abc import Iterable

from assistant.balance.contents import Heap
from assistant.balance.spread import Spread
from assistant.records import Amount
from lexicon import inflect

MOISTURE = {1: "dry", 2: "on the dry side", 3: "right", 4: "wet", 5: "waterlogged"}
SIGHTING = {0: "none", 1: "a few", 2: "some", 3: "many", 4: "a swarm"}
AS_WRITTEN = frozenset(
    {"lb", "oz", "fl_oz", "g", "kg", "ml", "cm", "tsp", "tbsp", "pH", "degF", "degC", "min", "percent"}
)
"""Units that have no plural of their own."""


def figure(value: float, places: int | None = None) -> str:
    """A figure short enough to read: two decimals below ten, one below a hundred, none above."""
    text = f"{value:.{_places(value) if places is None else places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _places(value: float) -> int:
    return 2 if abs(value) < 10 else 1 if abs(value) < 100 else 0


def spread_words(spread: Spread) -> str:
    """`best (low to high)`, all to the same place; the one figure where they look alike."""
    low, best, high = (figure(value, _places(spread.high)) for value in spread)
    return best if low == high else f"{best} ({low} to {high})"


def unit_words(unit: str, value: float) -> str:
    """The unit as said of so many."""
    name = unit.replace("_", " ")
    if 0 < value <= 1 or unit in AS_WRITTEN:
        return name
    others = inflect(name)
    return others[0] if others else name


def amount_words(amount: Amount) -> str:
    """An amount in its own unit."""
    spread = Spread(amount.low, amount.best, amount.high)
    return f"{spread_words(spread)} {unit_words(amount.unit, amount.best)}"


def item_words(amount: Amount | None, item: str | None) -> str:
    """An amount of an item: "2 cups coffee grounds", "3 mango skins"; either alone where that is all."""
    if amount is None:
        return item or ""
    if amount.unit == "piece" and item:
        return f"{spread_words(Spread(amount.low, amount.best, amount.high))} {item}"
    return f"{amount_words(amount)} {item or ''}".rstrip()


def amounts_words(amounts: Iterable[Amount]) -> str:
    """Several amounts, with plus signs between them; empty for none."""
    return " + ".join(map(amount_words, amounts))


def seen_words(kind: str, item: str, what: str) -> str:
    """A look in a few words: "worms many", "moisture wet", "carrot left 50 %", "bed 74 degF"."""
    named = {"sighting": item, "temperature": item, "leftover": f"{item or 'food'} left", "ph": ""}
    return f"{named.get(kind, kind)} {what}".strip()


def heap_words(heap: Heap, one: str) -> str:
    """What was put in, in the keeper's own units: "14 handfuls, and 2 feedings with no amount given"."""
    said, uncounted = amounts_words(heap.put_in), len(heap.uncounted)
    if not uncounted:
        return said
    rest = f"{uncounted} {unit_words(one, uncounted)} with no amount given"
    return f"{said}, and {rest}" if said else rest


def ago_words(days: int) -> str:
    """How long ago so many days are."""
    return "today" if days == 0 else "yesterday" if days == 1 else f"{days} days ago"


def times_words(count: int) -> str:
    """How often."""
    return "once" if count == 1 else "twice" if count == 2 else f"{count} times"
