"""A set-up told in words: "three trays stacked in the cellar, and a tub under the sink"."""

from __future__ import annotations

import re
from functools import cache

from assistant.errors import SetupError
from assistant.reading.calendar import WEEKDAYS
from assistant.reading.dayterms import NEAR
from assistant.reading.numbers import cardinal
from assistant.reading.tokens import MONTHS
from assistant.records import Bin, SetUp
from lexicon import load

_PARTS = re.compile(r"[,;.\n]|\band\b|\bplus\b|\bthen\b", re.IGNORECASE)
_HEADING = re.compile(r"^[\w' ]*\bbins\s*[:.-]", re.IGNORECASE)
_AT = frozenset("in under on at by behind inside beside near".split())
_STACKS = frozenset("stack stacked tower tall stacking".split())
_SKIP = frozenset("i have i've got we we've a an the my our one is are of it worm called named there".split())


def bins_in(text: str) -> SetUp:
    """The bins that a line tells of, empty where it tells of none.

    A bin is called by the place it stands in and what it is: "cellar stack", "sink tub"; or by the name given
    with "called". Two bins with one name get a number.
    """
    nouns = _forms("binnouns")
    layers = _forms("tiernouns") - {"one", "ones"}
    found: list[Bin] = []
    for part in _PARTS.split(_HEADING.sub("", text)):
        bin_ = _bin(re.findall(r"[\w'-]+", part.lower()), nouns, layers)
        if bin_ is not None:
            found.append(_unlike(bin_, found))
    return tuple(found)


def check_names(setup: SetUp) -> None:
    """SetupError where a bin is called by a word that means something else ("bottom", "feed")."""
    for bin_ in setup:
        name = bin_.name.strip()
        if (name if len(name) == 1 else name.lower()) in _spoken_for():
            raise SetupError(
                f"no bin can be called '{name}': notes use that word for other things; say '{name} bin'"
            )


@cache
def _spoken_for() -> frozenset[str]:
    """The words of place, act, day and grammar."""
    tables = (_forms("tiers"), _forms("verbs"), _forms("function"))
    return frozenset((*NEAR, *WEEKDAYS, *MONTHS)).union(*tables) - _forms("binnouns")


def _forms(table: str) -> set[str]:
    return {f.strip() for row in load().table(table) for f in row["form"].split(";")}


def _bin(words: list[str], nouns: set[str], layers: set[str]) -> Bin | None:
    at = next((i for i, w in enumerate(words) if w in nouns | layers), None)
    if at is None:
        return None
    stacked = bool(_STACKS & set(words))
    count = next((cardinal(w) for w in words if cardinal(w) is not None), None)
    tiers = (
        count if count and (stacked or words[at] in ("trays", "tiers", "layers", "levels", "drawers")) else 1
    )
    noun = "stack" if tiers > 1 and words[at] not in ("tower", "dresser") else words[at].removesuffix("s")
    if "called" in words or "named" in words:
        name = words[max(i for i, w in enumerate(words) if w in ("called", "named")) + 1 :]
        return Bin(" ".join(name), min(tiers, 99)) if name else None
    where = next((words[i + 1 :] for i, w in enumerate(words) if w in _AT and i > at), [])
    room = [w for w in where if w not in _SKIP and cardinal(w) is None][:2]
    front = [w for w in words[:at] if w not in _SKIP and w not in _STACKS and cardinal(w) is None][-1:]
    name = [*(room or front), noun]
    return Bin(" ".join(dict.fromkeys(name)), min(tiers, 99))


def _unlike(bin_: Bin, found: list[Bin]) -> Bin:
    taken = {b.name for b in found}
    name, number = bin_.name, 2
    while name in taken:
        name, number = f"{bin_.name} {number}", number + 1
    return Bin(name, bin_.tiers)
