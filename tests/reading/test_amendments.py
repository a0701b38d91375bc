"""What is said after a note mends that note's records, and only those that it speaks of."""

from __future__ import annotations

from datetime import datetime

import pytest

from assistant.records import Bin
from tests.reading import notesets

SETUP = (Bin("shed tower", 3), Bin("sink tub"))
NOW = datetime(2026, 3, 10, 19, 0)
FED = "fed the sink tub three cups of melon and two handfuls of bread. saw four slugs, a few fruit flies"


@pytest.mark.parametrize(
    ("said", "changed"),
    [
        ("no, that was five cups", {"melon": "5 cup"}),
        ("it was two cups not three", {"melon": "2 cup"}),
        ("sorry, one handful", {"bread": "1 handful"}),
        ("sorry, six slugs", {"slugs": "6 piece"}),
        ("the melon was two slices", {"melon": "2 slice"}),
        ("that's all for today", {}),
    ],
)
def test_an_amount_goes_to_what_it_fits(said: str, changed: dict[str, str]) -> None:
    as_read = {"melon": "3 cup", "bread": "2 handful", "slugs": "4 piece", "fruit flies": "level 1"}
    records = notesets.reader().corrected(FED, said, SETUP, NOW).records
    told = {
        r.item: f"{r.amount.best:g} {r.amount.unit}" if r.amount else f"level {r.level:g}"
        for r in records
        if r.level is not None or r.amount
    }
    assert told == as_read | changed
