"""One small function for each kind of record: what it changes. STEPS is the whole list."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.balance.steps import looks, material, order, stock, worms
from assistant.balance.steps.post import Step, nothing_more

STEPS: Mapping[str, Step] = {
    "feed": material.feed,
    "bed": material.bed,
    "amend": material.amend,
    "water": material.water,
    "drain": stock.drain,
    "move": material.move,
    "remove": material.remove,
    "turn": nothing_more,
    "harvest": stock.harvest,
    "cover": nothing_more,
    "treat": nothing_more,
    "restack": order.restack,
    "start": order.start,
    "refresh": material.refresh,
    "worms_added": worms.added,
    "worms_removed": worms.removed,
    "prepare": stock.prepare,
    "buy": stock.buy,
    "sell": stock.sell,
    "give": stock.give,
    "check": nothing_more,
    "moisture": looks.level,
    "temperature": looks.temperature,
    "ph": looks.figure,
    "sighting": looks.sighting,
    "leftover": looks.leftover,
    "progress": looks.level,
    "smell": looks.smell,
    "worm_estimate": looks.estimate,
    "remark": nothing_more,
}

PLACELESS = frozenset({"drain", "prepare", "buy", "sell", "give", "remark"})
"""Kinds that belong to a bin only where the note names one (contract, section 5.12)."""
