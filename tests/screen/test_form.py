"""A record as a form: what is shown reads back as it was, what is changed is read, nonsense is one line."""

from __future__ import annotations

from dataclasses import replace

import pytest

from assistant.errors import BinsideError
from assistant.records import Amount, Bin, Record
from assistant.screen.form import amended, fields, units

BINS = (Bin("cellar stack", 3, ("the stack",)), Bin("tub"))
FED = Record(
    "feed", "done", "cellar stack", 2, item="kale", amount=Amount(1.6, 2, 2.4, "handful"), when="2026-06-14"
)
UNITS = {"cups": "cup", "cup": "cup", "handfuls": "handful", "lb": "lb"}


def change(record: Record, **texts: str) -> Record:
    return amended(record, {**fields(record), **texts}, BINS, UNITS)


@pytest.mark.parametrize(
    "record",
    [
        FED,
        Record("moisture", level=4.0, unsure=("the day",)),
        Record("temperature", item="bed", amount=Amount.exactly(61, "degF")),
        Record("ph", amount=Amount.exactly(6.8, "pH")),
        Record("move", tier=1, to_tier=3, spot="back \x1b[31mleft"),
        Record("cover", item="burlap", level=0),
    ],
)
def test_left_alone_it_stays_but_for_the_guesses(record):
    assert change(record) == replace(record, unsure=())


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("3 cups", Amount.exactly(3, "cup")),
        ("2 to 3 cups", Amount(2, 2.5, 3, "cup")),
        ("2-3 cups", Amount(2, 2.5, 3, "cup")),
        ("2.5 (2 to 4) cups", Amount(2, 2.5, 4, "cup")),
        ("½ cup", Amount.exactly(0.5, "cup")),
        ("1½ cups", Amount.exactly(1.5, "cup")),
        ("1/4 lb", Amount.exactly(0.25, "lb")),
        ("5", Amount.exactly(5, "piece")),
        ("2 coffee cans", Amount.exactly(2, "coffee cans")),
        ("−2 °C", Amount.exactly(-2, "degC")),
        ("60 %", Amount.exactly(60, "percent")),
        ("pH 6.5", Amount.exactly(6.5, "pH")),
        ("", None),
    ],
)
def test_amounts(text, amount):
    assert change(FED, amount=text).amount == amount


def test_the_other_fields():
    new = change(
        FED, item="Melon Rind", bin="THE STACK", tier="", spot="left", when="2026-06-12", state="ruled out"
    )
    assert new == replace(
        FED,
        item="melon rind",
        bin="cellar stack",
        tier=None,
        spot="left",
        when="2026-06-12",
        state="ruled_out",
    )
    assert change(Record("moisture", level=4.0), level="right").level == 3
    assert change(Record("leftover", level=0.5), level="0.25").level == 0.25


@pytest.mark.parametrize(
    ("texts", "line"),
    [
        ({"amount": "some"}, "how much: a figure and a measure, such as 2 handfuls, not 'some'"),
        ({"amount": "1/0 cup"}, "how much: the figure is too large"),
        ({"amount": "9" * 400 + " cups"}, "how much: the figure is too large"),
        ({"amount": "3 to 2 cups"}, "how much: the lower figure comes first"),
        ({"tier": "4"}, "cellar stack has 3 tiers: no tier 4 there"),
        ({"tier": "-1"}, "tier: a number counted from the top, 1 for the top one"),
        ({"bin": "attic"}, "there is no bin 'attic': it can be cellar stack, tub"),
        ({"when": "31 February"}, "day: written as year, month, day, such as 2026-03-05"),
        ({"state": "perhaps"}, "state: one of done, planned, expected, ruled out"),
    ],
)
def test_nonsense_is_one_line(texts, line):
    with pytest.raises(BinsideError, match=f"^{line.replace('(', '.')}$"):
        change(FED, **texts)
    with pytest.raises(
        BinsideError, match="how it was: one of dry, on the dry side, right, wet, waterlogged"
    ):
        change(Record("moisture", level=4.0), level="moist-ish")


def test_the_measures_of_the_lexicon_are_known():
    """Contract, section 2: the spellings of units."""
    spelled = units()
    assert {spelled[form] for form in ("pounds", "cups", "handfuls", "quarts", "litres")} == {
        "lb",
        "cup",
        "handful",
        "quart",
        "litre",
    }
