"""The bins as they stand, in words: every due is told once and where it belongs, doubts are bounded."""

from __future__ import annotations

from datetime import date

import pytest

from assistant.balance import Balances, fold
from assistant.balance.state import Doubt
from assistant.outlook import Due
from assistant.records import Amount, Bin, Entry, Record
from assistant.screen.standing import MOST, standing
from lexicon import load

TODAY = date(2026, 6, 14)
BINS = (Bin("cellar stack", 2), Bin("tub"))


def books(*records: Record) -> Balances:
    entries = [Entry(str(n), "n", "2026-06-01T10:00:00", record) for n, record in enumerate(records)]
    return fold(entries, BINS, TODAY, load())


def due(what: str, bin_: str | None, tier: int | None, day: str | None = None, why: str = "") -> Due:
    return Due(what, bin_, tier, day, why, (), "promised")


def test_what_is_told_of_a_tier():
    amount = Amount.exactly(2, "nonesuch")
    fed = Record("feed", bin="cellar stack", tier=1, item="nonesuch", amount=amount, when="2026-06-11")
    wet = Record("moisture", bin="cellar stack", tier=2, level=4, when="2026-06-13")
    told = standing(books(fed, wet), ())
    top, second = told.stacks[0].trays
    assert top.facts[0].startswith("fed 3 days ago: 2 ")
    assert top.facts[1].startswith("food waiting: ") and top.facts[2] == "moisture: not seen yet"
    assert second.facts == ("not fed yet", "moisture: wet, yesterday")
    assert told.bins == BINS


@pytest.mark.parametrize(
    ("one", "where"),
    [
        (due("a", "cellar stack", 2), ("cellar stack", 1)),
        (due("a", "cellar stack", None), ("cellar stack", 0)),
        (due("a", "cellar stack", 9), ("cellar stack", 0)),
        (due("a", "tub", None), ("tub", 0)),
        (due("a", "tub", 1), ("tub", 0)),
        (due("a", None, None), None),
        (due("a", "a bin long gone", 1), None),
    ],
)
def test_a_due_is_told_once_where_it_belongs(one, where):
    told = standing(books(), (one,))
    found = [(stack.name, n) for stack in told.stacks for n, tray in enumerate(stack.trays) for _ in tray.due]
    assert found == ([where] if where else [])
    assert len(told.loose.due) == (0 if where else 1)


def test_the_day_of_a_due():
    days = ("2026-06-14", "2026-06-10", "2026-06-16", "2027-01-02", None)
    told = standing(books(), [due("feed", None, None, day, "dry") for day in days])
    assert told.loose.due == (
        "feed, now: dry",
        "feed, since 10 June: dry",
        "feed, 16 June: dry",
        "feed, 2 January 2027: dry",
        "feed, no day set: dry",
    )


def test_doubts_are_bounded_and_safe():
    held = books()
    held.doubts += [Doubt(f"\x1b[31mdoubt {n}", (), "tub") for n in range(MOST + 2)]
    held.doubts.append(Doubt("of no bin", ()))
    told = standing(held, ())
    kept = [f"␛[31mdoubt {n}" for n in (2, 3, 4)]
    assert told.stacks[1].trays[0].doubts == (*kept, "and 2 from before")
    assert told.loose.doubts == ("of no bin",)
