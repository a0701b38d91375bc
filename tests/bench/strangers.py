"""How many of the strangers' amounts and days are read exactly: `python -m tests.bench.strangers FOLDER`.

FOLDER holds amounts.jsonl and days.jsonl with gold readings from the test specs of Recognizers-Text (MIT) and
Duckling (BSD 3-clause); they are for measuring only and are no part of the project. `--worst` lists misses.
"""

from __future__ import annotations

import argparse
import json
import math
from collections import Counter
from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path
from typing import Any

import spacy

from assistant.reading.amounts import AmountSpan, Measures, find_amounts
from assistant.reading.days import DaySpan, find_days
from lexicon import load

UNITS = {"L": "litre", "gal": "gallon", "in": "inch", "ft": "foot", "yd": "yard"}
PAST_WORDS = frozenset("ago last past previous yesterday was went had were did happened earlier came".split())
INCH = {"inch": 1.0, "foot": 12.0, "cm": 1 / 2.54}

_tokenizer = spacy.blank("en")


def words(text: str) -> list[str]:
    """Lower-cased tokens."""
    return [token.lower_ for token in _tokenizer(text) if not token.is_space]


def _close(a: float | None, b: float | None) -> bool:
    return (
        a is None and b is None if a is None or b is None else math.isclose(a, b, rel_tol=1e-6, abs_tol=1e-12)
    )


def _factor(unit: str | None, gold: str | None, measures: Measures) -> float | None:
    """What turns our unit into the gold one, None where they do not measure the same."""
    wanted = UNITS.get(gold or "", gold)
    if unit == wanted or (unit == "percent" and wanted == "%"):
        return 1.0
    if unit in INCH and wanted in INCH:
        return INCH[unit] / INCH[wanted]
    mine, theirs = measures.by_name.get(unit or ""), measures.by_name.get(wanted or "")
    if not mine or not theirs or not mine.base or not theirs.base or mine.dimension != theirs.dimension:
        return None
    return float(mine.base / theirs.base)


def judge_amount(gold: dict[str, Any], spans: list[AmountSpan], measures: Measures) -> str:
    """ "exact", "design" (the value is right, our range is the contract's) or "wrong"."""
    if not spans:
        return "wrong"
    span = max(spans, key=lambda s: (s.end - s.start, s.unit is not None))
    factor = _factor(span.unit, gold["unit"], measures)
    if factor is None:
        return "wrong"
    low = None if span.open == "low" else span.low * factor
    high = None if span.open == "high" else span.high * factor
    if _close(low, gold["lo"]) and _close(high, gold["hi"]):
        return "exact"
    vague = gold["lo"] == gold["hi"] and not span.open and span.low < span.high
    return "design" if vague and _close(span.best * factor, gold["lo"]) else "wrong"


def judge_day(gold: dict[str, Any], text: str, spans: list[DaySpan]) -> str:
    """ "exact", "design" (the other reading of the two, or the contract's day of a period), or "wrong"."""
    wanted = [(gold["start"], gold["end"]), *map(tuple, gold.get("alt", ()))]
    if gold["start"] == "0001-01-01":
        return "exact" if spans and spans[0].past is None and spans[0].coming is None else "wrong"
    if not spans:
        return "wrong"
    span = max(spans, key=lambda s: s.end - s.start)
    past_first = bool(PAST_WORDS & set(words(text)))
    readings = [span.past, span.coming] if past_first else [span.coming, span.past]
    given = [tuple(d.isoformat() for d in r) for r in readings if r]
    if given and given[0] in wanted:
        return "exact"
    if any(g in wanted for g in given):
        return "design"
    first = {date.fromisoformat(w[0]) for w in wanted} | {date.fromisoformat(w[1]) for w in wanted}
    return "design" if any(r and (r[0] in first or r[1] in first) for r in readings) else "wrong"


def _amounts(folder: Path) -> Iterator[tuple[str, str, Any, Any]]:
    measures = Measures(load().table("measures"))
    for line in (folder / "amounts.jsonl").read_text(encoding="utf-8").splitlines():
        case = json.loads(line)
        spans = find_amounts(words(case["text"]), measures)
        yield judge_amount(case["gold"], spans, measures), case["text"], case["gold"], spans


def _days(folder: Path) -> Iterator[tuple[str, str, Any, Any]]:
    for line in (folder / "days.jsonl").read_text(encoding="utf-8").splitlines():
        case = json.loads(line)
        spans = find_days(words(case["text"]), datetime.fromisoformat(case["now"]))
        yield (
            judge_day(case["gold"], case["text"], spans),
            case["text"],
            (case["now"][:10], case["gold"]),
            spans,
        )


def main() -> None:
    """Print the share exact of each list, and the misses where asked."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--worst", choices=("amounts", "days"))
    parser.add_argument("--show", default="wrong", choices=("wrong", "design"))
    options = parser.parse_args()
    for name, cases in (("amounts", _amounts), ("days", _days)):
        results = list(cases(options.folder))
        counts = Counter(verdict for verdict, *_ in results)
        share = counts["exact"] / len(results)
        allowed = (counts["exact"] + counts["design"]) / len(results)
        print(f"{name}: exact {counts['exact']} of {len(results)} ({share:.3f}), "
              f"with differences by design {allowed:.3f}")  # fmt: skip
        for verdict, text, gold, spans in results if options.worst == name else ():
            if verdict == options.show:
                print(f"  {text!r}\n      wanted {gold}\n      read   {spans}")


if __name__ == "__main__":
    main()
