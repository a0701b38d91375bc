"""Our own lists of amounts and days, read by Binside and by libraries for the same job: share exact, ms a
phrase.

`python -m tests.bench.amounts_days [--worst]`. The lists (tests/reading/*.tsv) were written before the
readers were run on them; own lists flatter, so see tests.bench.strangers too. A library that is not there
is skipped.
"""

from __future__ import annotations

import argparse
import csv
import importlib
import math
import time
from collections.abc import Callable, Iterable
from datetime import date, datetime
from pathlib import Path
from typing import Any

from assistant.reading.amounts import AmountSpan, Measures, find_amounts
from assistant.reading.days import DaySpan, find_days
from lexicon import load
from tests.bench.strangers import words

LISTS = Path(__file__).parent.parent / "reading"
NOW = date(2026, 3, 10)  # a Tuesday


def cases(name: str) -> list[dict[str, str]]:
    """The rows of one of our lists."""
    with (LISTS / name).open(encoding="utf-8", newline="") as lines:
        reader = csv.DictReader(lines, delimiter="\t", restval="", quoting=csv.QUOTE_NONE)
        return [dict(row) for row in reader]


def amounts_text(spans: Iterable[AmountSpan]) -> list[tuple[float, float, float, str, str]]:
    """Spans as the list writes them: figures, unit or currency, and a mark."""
    return [
        (s.low, s.best, s.high, s.currency or s.unit or "", "each" if s.each else s.open)
        for s in spans
    ]  # fmt: skip


def wanted_amounts(cell: str) -> list[tuple[float, float, float, str, str]]:
    """ "2/2.5/3 cup each ; 6 oz" as figures."""
    found = []
    for part in cell.split(" ; ") if cell != "none" else ():
        figures, *rest = part.split()
        low, *more = map(float, figures.split("/"))
        best, high = more or (low, low)
        unit = rest[0] if rest else ""
        found.append((low, best, high, unit, rest[1] if len(rest) > 1 else ""))
    return found


def same_amounts(a: list[tuple[Any, ...]], b: list[tuple[Any, ...]]) -> bool:
    """Whether two lists of amounts agree, figures to a part in a thousand."""
    return len(a) == len(b) and all(
        x[3:] == y[3:] and all(math.isclose(p, q, rel_tol=1e-3) for p, q in zip(x[:3], y[:3], strict=True))
        for x, y in zip(a, b, strict=True)
    )


def period_text(when: tuple[date, date] | None) -> str:
    """A period as the list writes it."""
    if when is None:
        return "-"
    return str(when[0]) if when[0] == when[1] else f"{when[0]}..{when[1]}"


def day_text(spans: list[DaySpan]) -> tuple[str, str, frozenset[str]]:
    """The one span of a phrase as the list writes it; "none" for none, "many" for more than one."""
    if len(spans) != 1:
        return "many" if spans else "none", "", frozenset()
    span = spans[0]
    marks = {
        "period": span.period,
        "recurring": span.recurring,
        "since": span.since,
        "unsure": bool(span.unsure),
    }
    return period_text(span.past), period_text(span.coming), frozenset(k for k, on in marks.items() if on)


def wanted_day(row: dict[str, str]) -> tuple[str, str, frozenset[str]]:
    """A row of days.tsv."""
    return row["past"], row["coming"] or "", frozenset((row["flags"] or "").split())


def timed(read: Callable[[str], Any], texts: list[str]) -> float:
    """Milliseconds a phrase, after one round to warm up."""
    for text in texts:
        read(text)
    begin = time.perf_counter()
    for text in texts:
        read(text)
    return 1000 * (time.perf_counter() - begin) / len(texts)


def _figure(low: float | None, text: str) -> bool:
    """Whether another library's figure is the low, best or high one; it knows no ranges of the contract."""
    wanted = wanted_amounts(text)
    if not wanted:
        return low is None
    return low is not None and any(math.isclose(low, w, rel_tol=1e-3) for w in wanted[0][:3])


def _quantulum(module: Any) -> Callable[[str], float | None]:
    def read(text: str) -> float | None:
        found = module.parser.parse(text)
        return float(found[0].value) if found else None

    return read


def _text2num(module: Any) -> Callable[[str], float | None]:
    def read(text: str) -> float | None:
        for word in module.alpha2digit(text, "en").split():
            try:
                return float(word)
            except ValueError:
                continue
        return None

    return read


def _word2number(module: Any) -> Callable[[str], float | None]:
    def read(text: str) -> float | None:
        try:
            return float(module.w2n.word_to_num(text))
        except ValueError:
            return None

    return read


def _dateparser(module: Any) -> Callable[[str], date | None]:
    settings = {"RELATIVE_BASE": datetime(NOW.year, NOW.month, NOW.day), "PREFER_DATES_FROM": "future"}

    def read(text: str) -> date | None:
        found = module.search.search_dates(text, languages=["en"], settings=settings)
        return found[0][1].date() if found else None

    return read


def _parsedatetime(module: Any) -> Callable[[str], date | None]:
    calendar = module.Calendar()

    def read(text: str) -> date | None:
        found, status = calendar.parseDT(text, datetime(NOW.year, NOW.month, NOW.day))
        return found.date() if status else None

    return read


def others(
    names: dict[str, Any], rows: list[dict[str, str]], right: Callable[[Any, dict[str, str]], bool]
) -> None:
    """Print a line for each library that is there."""
    for name, (extra, make) in names.items():
        try:
            module = importlib.import_module(name)
            for part in extra:
                importlib.import_module(f"{name}.{part}")
        except ImportError:
            print(f"  {name}: not installed, skipped")
            continue
        read = make(module)
        texts = [row["phrase"] for row in rows]
        good = sum(right(read(row["phrase"]), row) for row in rows)
        print(f"  {name}: first figure or day right {good} of {len(rows)} ({good / len(rows):.3f}), "
              f"{timed(read, texts):.2f} ms a phrase")  # fmt: skip


def main() -> None:
    """Print shares and times; with --worst our own misses."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--worst", action="store_true")
    worst = parser.parse_args().worst
    measures = Measures(load().table("measures"))
    rows = cases("amounts.tsv")
    misses = [
        (row, given)
        for row in rows
        if not same_amounts(given := amounts_text(find_amounts(words(row["phrase"]), measures)),
                            wanted_amounts(row["amounts"]))
    ]  # fmt: skip
    report("amounts", rows, misses, worst, lambda text: find_amounts(words(text), measures))
    others(
        {"quantulum3": (("parser",), _quantulum), "text_to_num": ((), _text2num),
         "word2number": (("w2n",), _word2number)},
        rows,
        lambda value, row: _figure(value, row["amounts"]),
    )  # fmt: skip
    rows = cases("days.tsv")
    misread = [
        (row, read)
        for row in rows
        if (read := day_text(find_days(words(row["phrase"]), NOW))) != wanted_day(row)
    ]
    report("days", rows, misread, worst, lambda text: find_days(words(text), NOW))
    others(
        {"dateparser": (("search",), _dateparser), "parsedatetime": ((), _parsedatetime)},
        rows,
        lambda value, row: (str(value) if value else "none") in (row["past"], (row["coming"] or "")[:10]),
    )


def report(
    name: str, rows: list[dict[str, str]], misses: list[Any], worst: bool, read: Callable[[str], Any]
) -> None:
    """Print our own line."""
    good = len(rows) - len(misses)
    texts = [row["phrase"] for row in rows]
    print(
        f"{name}: Binside exact {good} of {len(rows)} ({good / len(rows):.3f}), "
        f"{timed(read, texts):.3f} ms a phrase"
    )
    for row, given in misses if worst else ():
        print(f"  {row}\n      read {given}")


if __name__ == "__main__":
    main()
