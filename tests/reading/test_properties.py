"""What holds for any text: spans lie in the note, figures are finite, the reading is always the same."""

from __future__ import annotations

import math
import re
from datetime import datetime
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.reading import Reader
from assistant.records import KINDS, Bin, Record
from tests.reading import notesets, rules, steady

SETUP = (Bin("cellar stack", 3, also=("the stack",)), Bin("tote"))
NOW = datetime(2026, 3, 10, 19, 0)
PLACES = {None: (None,), "cellar stack": (None, 1, 2, 3), "tote": (None, 1)}
WORDS = sorted(
    {
        word
        for name in notesets.OURS.glob("*.jsonl")
        for n in notesets.lines_of(name)
        for word in n["text"].split()
    }
)
ODD = (
    "½ ⅓ 3 1/2 0 -2 1,5 1e309 ³ ３ . , ; … ( ) [0:05] \n 2–3 % $5 31/12 \x00 \x1b[31m \u202e \u0065\u0301 "
    "\U0001fab1"
).split(" ")


anything = st.text(max_size=200)
talk = st.lists(st.sampled_from(WORDS + ODD * 20), max_size=40).map(" ".join)
few = settings(max_examples=60, deadline=None)


def check(text: str, records: tuple[Record, ...]) -> None:
    """Every promise that a record's slots make on their own."""
    for r in records:
        assert r.kind in KINDS
        assert 0 <= r.start <= r.end <= len(text)
        assert r.text == text[r.start : r.end]
        assert r.kind == "remark" or r.text
        assert r.bin not in PLACES or r.tier in PLACES[r.bin]
        assert r.tier is None or 1 <= r.tier <= 3
        assert r.to_tier is None or r.to_tier >= 1
        if r.amount:
            assert 0 <= r.amount.low <= r.amount.best <= r.amount.high < math.inf or r.kind == "temperature"
            assert all(map(math.isfinite, (r.amount.low, r.amount.best, r.amount.high)))
            assert r.amount.unit
        assert r.level is None or math.isfinite(r.level)
        assert r.price is None or math.isfinite(r.price.value)
        assert r.when is None or datetime.fromisoformat(r.when)
        assert r.when or r.state in ("planned", "expected")
        written = r.to_json()  # figures to six places: a third comes back as 0.333333
        assert Record.from_json(written).to_json() == written


@few
@given(st.one_of(anything, talk))
def test_records_keep_their_promises(text: str) -> None:
    reader = notesets.reader()
    check(text, reader.read(text, SETUP, NOW).records)


@settings(max_examples=20, deadline=None)
@given(talk)
def test_what_was_read_before_makes_no_difference(text: str) -> None:
    reader = notesets.reader()
    first = reader.read(text, SETUP, NOW)
    reader.read("fed the tote two cups of melon, it was soggy, mites everywhere", SETUP, NOW)
    assert reader.read(text, SETUP, NOW) == first


def test_another_reader_reads_the_same() -> None:
    notes = notesets.lines_of(notesets.OURS / "a.jsonl")[:5]
    other = Reader()
    for note in notes:
        now = datetime.fromisoformat(note["now"])
        setup = tuple(Bin.from_json(b) for b in note["setup"])
        assert other.read(note["text"], setup, now) == notesets.reader().read(note["text"], setup, now)


@pytest.mark.parametrize("change", ["talk before", "talk after"])
@pytest.mark.parametrize("case", rules.cases("rules.tsv"), ids=str)
def test_talk_around_a_note_changes_nothing(change: str, case: rules.Case) -> None:
    note: dict[str, Any] = {"text": case.note, "now": rules.NOW, "setup": rules.SETUPS[case.setup]}
    changed = notesets.read(note, steady.CHANGES[change](case.note))
    assert steady.says(changed) == steady.says(notesets.read(note))


@pytest.mark.parametrize(
    "case", [c for c in rules.cases("rules.tsv") if not re.search(r"[.!?]\s", c.note)], ids=str
)
def test_capitals_and_the_last_stop_change_nothing(case: rules.Case) -> None:
    note: dict[str, Any] = {"text": case.note, "now": rules.NOW, "setup": rules.SETUPS[case.setup]}
    assert steady.says(notesets.read(note, case.note.lower().rstrip("."))) == steady.says(notesets.read(note))
