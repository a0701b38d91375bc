"""A record as a form of short texts, and back: what the keeper changed is read, the rest stays as it is.

fields(record)                       {"amount": "2 handfuls", "tier": "2", ...}
amended(record, texts, bins, units)  the record with the changes, all of it now sure
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import datetime
from typing import Any, get_args

from assistant.balance.wording import MOISTURE, SIGHTING
from assistant.errors import BinsideError
from assistant.exchange.clean import one_line
from assistant.records import Amount, Bin, Record, SetUp, State
from assistant.wording import FINISHED, LEFT, SIGNS, amount_said
from lexicon import load

LABELS: Mapping[str, str] = {
    "item": "what",
    "amount": "how much",
    "level": "how it was",
    "bin": "bin",
    "tier": "tier, 1 = top",
    "to_tier": "into tier",
    "spot": "place in it",
    "when": "day",
    "state": "state",
}
SCALES: Mapping[str, Mapping[float, str]] = {
    "moisture": {float(level): word for level, word in MOISTURE.items()},
    "sighting": {float(level): word for level, word in SIGHTING.items()},
    "leftover": LEFT,
    "progress": FINISHED,
    "cover": {1.0: "on", 0.0: "off"},
}
MOVING = frozenset({"move", "restack", "harvest"})

_NUMBER = r"[-−]?(?:\d+\s*[½⅓⅔¼¾⅛]|[½⅓⅔¼¾⅛]|\d+/\d+|\d*\.?\d+)"
_AMOUNT = re.compile(
    rf"(?P<best>{_NUMBER})\s*"
    rf"(?:\(\s*(?P<low>{_NUMBER})\s*(?:to|-|–)\s*(?P<high>{_NUMBER})\s*\)|(?:to|-|–)\s*(?P<end>{_NUMBER}))?"
    r"\s*(?P<unit>\D*)"
)


def fields(record: Record) -> dict[str, str]:
    """The fields that a record of this kind has, as texts safe to show; empty where nothing is said."""
    scale = SCALES.get(record.kind, {})
    texts = {
        "item": record.item or "",
        "amount": amount_said(record.amount) if record.amount else "",
        "level": "" if record.level is None else scale.get(record.level, f"{record.level:g}"),
        "bin": record.bin or "",
        "tier": str(record.tier or ""),
        "to_tier": str(record.to_tier or ""),
        "spot": record.spot or "",
        "when": record.when or "",
        "state": record.state.replace("_", " "),
    }
    if record.kind not in SCALES:
        del texts["level"]
    if record.kind not in MOVING:
        del texts["to_tier"]
    return {name: one_line(text) for name, text in texts.items()}


def amended(record: Record, texts: Mapping[str, str], bins: SetUp, units: Mapping[str, str]) -> Record:
    """The record with the texts that differ from `fields(record)` read into it; nothing is guessed any more.

    `units` maps every form of a measure to its spelling. BinsideError says what cannot be taken.
    """
    before = fields(record)
    changed = {name: text.strip() for name, text in texts.items() if text.strip() != before.get(name)}
    read: dict[str, Callable[[str], Any]] = {
        "item": lambda text: text.lower() or None,
        "amount": lambda text: _amount(text, units),
        "level": lambda text: _level(text, record.kind),
        "bin": lambda text: _bin(text, bins),
        "tier": _tier,
        "to_tier": _tier,
        "spot": lambda text: text or None,
        "when": _day,
        "state": _state,
    }
    new = replace(record, **{name: read[name](text) for name, text in changed.items()}, unsure=())
    return _within(new, bins)


def units() -> dict[str, str]:
    """Every form of a measure that the lexicon knows, and how it is spelled in a record."""
    rows = load().table("measures")
    return {form: row["name"] for row in rows for form in (row["name"], *row["forms"].split(";")) if form}


def _amount(text: str, units: Mapping[str, str]) -> Amount | None:
    if not text:
        return None
    found = _AMOUNT.fullmatch(text.removeprefix("pH").strip())
    if not found:
        said = one_line(text, 40)
        raise BinsideError(f"how much: a figure and a measure, such as 2 handfuls, not '{said}'")
    best = _figure(found["best"])
    low, high = (_figure(found["low"]), _figure(found["high"])) if found["low"] else (best, best)
    if found["end"]:
        low, high = best, _figure(found["end"])
        best = (low + high) / 2
    if not low <= best <= high:
        raise BinsideError("how much: the lower figure comes first")
    unit = "pH" if text.startswith("pH") else found["unit"].strip()
    signs = {sign: name for name, sign in SIGNS.items()}
    return Amount(low, best, high, signs.get(unit) or units.get(unit.lower()) or unit or "piece")


def _figure(text: str) -> float:
    text = text.replace("−", "-").strip()
    if "/" in text:
        over, under = text.split("/")
        value = float(over) / float(under) if float(under) else math.inf
    elif not text[-1].isdecimal():
        value = float(text[:-1] or 0) + unicodedata.numeric(text[-1])
    else:
        value = float(text)
    if not math.isfinite(value):
        raise BinsideError("how much: the figure is too large")
    return value


def _level(text: str, kind: str) -> float | None:
    if not text:
        return None
    scale = SCALES[kind]
    for level, word in scale.items():
        if text.lower() in (word, f"{level:g}"):
            return level
    raise BinsideError(f"how it was: one of {', '.join(scale.values())}")


def _bin(text: str, bins: SetUp) -> str | None:
    if not text:
        return None
    for known in bins:
        if text.lower() in map(str.lower, (known.name, *known.also)):
            return known.name
    names = one_line(", ".join(known.name for known in bins))
    known_ones = f": it can be {names}" if names else ""
    raise BinsideError(f"there is no bin '{one_line(text, 40)}'{known_ones}")


def _tier(text: str) -> int | None:
    if text and not (text.isdecimal() and int(text) > 0):
        raise BinsideError("tier: a number counted from the top, 1 for the top one")
    return int(text) if text else None


def _day(text: str) -> str | None:
    try:
        datetime.fromisoformat(text or "2000-01-01")
    except ValueError:
        raise BinsideError("day: written as year, month, day, such as 2026-03-05") from None
    return text or None


def _state(text: str) -> State:
    for state in get_args(State):
        if text.lower().replace(" ", "_") == state:
            return state  # type: ignore[no-any-return]
    raise BinsideError(f"state: one of {', '.join(get_args(State)).replace('_', ' ')}")


def _within(record: Record, bins: SetUp) -> Record:
    """The record, if its tiers are ones that its bin has."""
    known: Bin | None = next((one for one in bins if one.name == record.bin), None)
    for tier in filter(None, (record.tier, record.to_tier)):
        if known and tier > known.tiers:
            raise BinsideError(f"{one_line(known.name)} has {known.tiers} tiers: no tier {tier} there")
    return record
