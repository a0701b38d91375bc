"""Amounts that belong to no thing yet: which a record may claim, and what becomes of them in it."""

from __future__ import annotations

from collections.abc import Callable

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, quantity
from assistant.records import Amount

# Units of amounts as the reading tells them apart: what may be poured or scooped, what is only weighed,
# and what is read off and never put in or taken out.
VOLUMES = frozenset("cup pint quart gallon litre ml tbsp tsp fl_oz bucket scoop".split())
MASSES = frozenset("lb oz g kg ton tonne".split())
READINGS = frozenset("percent degree degF degC inch cm".split())
SPRAY = "spray"
_LIQUIDS = frozenset(("water", "drain"))


def claim(c: Context, fits: Callable[[AmountSpan], object]) -> AmountSpan | None:
    """The first unused amount of the clause that fits, marked as spoken for."""
    span = next((a for a in c.unused() if fits(a)), None)
    if span is not None:
        c.use(span)
    return span


def amount_for(kind: str, span: AmountSpan | None, share: int = 1) -> Amount | None:
    """The amount of a record of `kind`: ounces of a liquid are fluid ounces."""
    fluid = span is not None and span.unit == "oz" and kind in _LIQUIDS
    return quantity(span, share, "fl_oz" if fluid else None)
