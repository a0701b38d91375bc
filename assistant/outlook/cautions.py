"""The usual cautions: which of them a note touches, each shown once. Their texts are data of the lexicon."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable
from functools import cache

from assistant.records import Record
from lexicon import Caution, Lexicon


def cautions(
    records: Iterable[Record], text: str, lexicon: Lexicon, shown: Collection[str] = ()
) -> list[Caution]:
    """Cautions that the records (by item or kind) or the words of the note touch, save the ids in `shown`.

    In the order of the data. They name the usual care and defer to local rules and licensed practice.
    """
    held = list(records)
    items = {record.item for record in held if record.item}
    kinds = {record.kind for record in held}
    said = " ".join(text.lower().split())
    return [
        caution
        for caution in lexicon.cautions
        if caution.id not in shown and _touched(caution, items, kinds, said)
    ]


def _touched(caution: Caution, items: set[str], kinds: set[str], said: str) -> bool:
    if not items.isdisjoint(caution.items) or not kinds.isdisjoint(caution.kinds):
        return True
    return any(_whole(word).search(said) for word in caution.words)


@cache
def _whole(word: str) -> re.Pattern[str]:
    """The word or phrase by itself, in the singular or with a plain plural ending."""
    return re.compile(rf"(?<!\w){re.escape(word.lower())}(?:e?s)?(?!\w)")
