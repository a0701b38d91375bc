"""Whether one slot of a record that was read is right, by the rules of the record contract."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

Json = Mapping[str, Any]

WITHOUT_ITEM = frozenset("turn moisture ph progress start refresh restack water drain harvest".split())
"""Kinds whose item says nothing that the kind does not say."""

NEAR = {"moisture": 0.5, "sighting": 1.0, "leftover": 0.26, "progress": 0.26}
"""How far a level may be from the right one; none and some never pass for each other in a sighting."""

BASE = {
    # avoirdupois and US customary measures: exact, NIST Handbook 44, appendix C
    "lb": ("gram", 453.59237),
    "oz": ("gram", 28.349523125),
    "g": ("gram", 1.0),
    "kg": ("gram", 1000.0),
    "ton": ("gram", 907184.74),
    "tonne": ("gram", 1e6),
    "cup": ("millilitre", 236.5882365),
    "pint": ("millilitre", 473.176473),
    "quart": ("millilitre", 946.352946),
    "gallon": ("millilitre", 3785.411784),
    "litre": ("millilitre", 1000.0),
    "ml": ("millilitre", 1.0),
    "tbsp": ("millilitre", 14.78676478125),
    "tsp": ("millilitre", 4.92892159375),
    "fl_oz": ("millilitre", 29.5735295625),
    "yard": ("millilitre", 764554.857984),
    "inch": ("centimetre", 2.54),
    "cm": ("centimetre", 1.0),
}

PASSED_OVER = frozenset(
    "a an the some of fresh old little small big chopped frozen thawed dry wet damp dried used leftover "
    "extra more my our prepared rinsed crushed ground".split()
)
"""Words of an item that make no difference."""


def right_slots(gold: Json, read: Json, tiers: Mapping[str, int]) -> dict[str, bool]:
    """Each slot that the gold record scores, right or wrong; `tiers` by the bin's name in lower case."""
    kind = gold["kind"]
    out: dict[str, bool] = {}
    if "item" in gold and kind not in WITHOUT_ITEM:
        out["item"] = item_right(gold["item"], read.get("item"))
    out["state"] = read.get("state", "done") in _answers(gold.get("state", "done"))
    if "bin" in gold:
        out["bin"] = any(_flat(g) == _flat(read.get("bin")) for g in _answers(gold["bin"]))
    if "tier" in gold:
        lone = tiers.get((read.get("bin") or "").lower(), 0) == 1
        out["tier"] = _tier_right(_answers(gold["tier"]), read.get("tier"), lone)
    if "to_tier" in gold and kind in ("move", "restack", "harvest"):
        out["to_tier"] = read.get("to_tier") in _answers(gold["to_tier"])
    if "amount" in gold:
        out["amount"] = any(_amount_right(g, read.get("amount")) for g in _answers(gold["amount"]))
    if gold.get("level") is not None:
        out["level"] = any(_level_right(kind, g, read.get("level")) for g in _answers(gold["level"]))
    if "when" in gold:
        day = (read.get("when") or "")[:10]
        out["when"] = any((g or "")[:10] == day for g in _answers(gold["when"]))
    if gold.get("price"):
        paid = float((read.get("price") or {}).get("value") or 0)
        out["price"] = abs(paid - gold["price"]["value"]) < 0.005
    return out


def item_right(gold: Any, read: str | None) -> bool:
    """Whether the words of two items are the same but for number, case and words that say little."""
    return any(words(g) == words(read) if g else not read for g in _answers(gold))


def words(name: str | None) -> frozenset[str]:
    """The words of an item that count, in the singular."""
    said = re.findall(r"[a-z]+", (name or "").lower().replace("mould", "mold"))
    kept = frozenset(singular(w) for w in said if w not in PASSED_OVER)
    return kept or frozenset(map(singular, said))


def singular(word: str) -> str:
    """A plain guess at the singular; the same guess is made on both sides."""
    if len(word) > 4:
        for ending, cut, put in (
            (("ies",), 3, "y"),
            (("oes", "ches", "shes", "sses", "xes"), 2, ""),
            (("ves",), 3, "f"),
        ):
            if word.endswith(ending):
                return word[:-cut] + put
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word


def overlap(a: str, b: str) -> float:
    """The share of words that two texts have in common, 0 to 1."""
    in_a, in_b = set(re.findall(r"\w+", a.lower())), set(re.findall(r"\w+", b.lower()))
    return len(in_a & in_b) / max(len(in_a | in_b), 1)


def converted(value: float, unit: str, wanted: str) -> float | None:
    """`value` in another unit; None where the two measure different things."""
    if unit == wanted:
        return value
    if {unit, wanted} == {"degF", "degC"}:
        return value * 9 / 5 + 32 if wanted == "degF" else (value - 32) * 5 / 9
    if unit not in BASE or wanted not in BASE:
        return None
    (of, factor), (into, divisor) = BASE[unit], BASE[wanted]
    return value * factor / divisor if of == into else None


def _answers(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [value]


def _flat(name: str | None) -> str:
    return re.sub(r"[^a-z0-9]+", " ", (name or "").lower()).strip()


def _tier_right(gold: list[Any], read: Any, lone: bool) -> bool:
    """In a bin of one tier, tier 1 and none said are the same."""
    return read in gold or (lone and read in (None, 1) and set(gold) <= {None, 1})


def _amount_right(gold: Json | None, read: Json | None) -> bool:
    """Whether the best figure lies in the gold range, give or take 3 %."""
    if gold is None or read is None:
        return gold is None and read is None
    try:
        best = converted(float(read["best"]), str(read["unit"]), gold["unit"])
    except (KeyError, TypeError, ValueError):
        return False
    low, high = gold.get("low", gold.get("best")), gold.get("high", gold.get("best"))
    slack = 0.03 * max(abs(low), abs(high))
    return best is not None and low - slack <= best <= high + slack


def _level_right(kind: str, gold: float | None, read: Any) -> bool:
    if gold is None:
        return True
    try:
        level = float(read)
    except (TypeError, ValueError):
        return False
    if kind == "sighting" and (gold == 0) != (level == 0):
        return False
    return abs(gold - level) <= NEAR.get(kind, 0.0)
