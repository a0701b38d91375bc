"""Questions on the scenario of scenario.py with answers worked out by hand from its lines.

Weeks begin on Monday (ISO 8601); "last week" and "since New Year" are as in the contract, section 7.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from assistant.answers import WANTS, Answer

Asked = Callable[..., Answer]
NAN = object()  # no value is expected: the text is all there is

ROWS: list[tuple[str, str, Any, tuple[str, ...]]] = [
    # recall
    ("When did I last feed the bottom tray?", "last", "2026-03-16", ("e38", "e39")),
    ("when did i last feed the bottom tray", "last", "2026-03-16", ("e38", "e39")),
    ("Where did I put the pumpkin?", "last", "top tray of the tower, back left corner", ("e4",)),
    ("Which bin did I turn last?", "last", "tower", ("e32",)),
    ("When did I last drain the sump and how much came out?", "last", "2026-03-14", ("e36",)),
    ("Which bin had the gnats first?", "first", "tote", ("e11",)),
    ("When did I add the third tier?", "last", "2025-10-04", ("e3",)),
    ("Which tub did those blues come from?", "last", "tower", ("e7",)),
    ("When did I last see cocoons in the Euro bin?", "last", "2026-01-17", ("e14",)),
    ("what did I last feed the tote", "last", "coffee grounds", ("e42",)),
    ("when did I first feed the tower", "first", "2025-11-15", ("e4",)),
    ("when was the tote last too wet", "last", "2026-02-28", ("e28",)),
    ("how long since I watered the tote", "last", 7, ("e40",)),
    ("days since the last harvest", "last", 39, ("e24",)),
    ("where are the cocoons", "last", "Euro bin", ("e14",)),
    (
        "which foods did I give in march",
        "list",
        ["coffee grounds", "banana peel", "spinach"],
        ("e38", "e39", "e42", "e44"),
    ),
    ("which bins have I not fed this month", "list", ["Euro bin"], ()),
    # totals, counts, rates
    ("How many worms have I sold or given away?", "total", 50, ("e22", "e23")),
    ("What have I made?", "total", 48, ("e22", "e33")),
    ("how much did I spend", "total", 14, ("e5",)),
    ("how much did I get for the castings", "total", 40, ("e33",)),
    ("how much leachate came out this year", "total", 2.5, ("e21", "e36")),
    ("how much did I harvest this year", "total", 6, ("e24",)),
    ("how much coffee did I feed the tower", "total", 3, ("e9", "e38")),
    ("how many times did I feed the tote since new year", "count", 3, ("e10", "e16", "e42")),
    ("how many bins do I have", "count", 3, ()),
    # fed on 15 November, 3 and 24 January, 28 February, 16 and 23 March: 49, 21, 35, 16 and 7 days between
    ("how often do I feed the tower", "rate", 21, ("e4", "e9", "e15", "e30", "e38", "e39", "e44")),
    ("how many worms have I got", "estimate", 800, ("e6", "e7", "e8")),
    ("What should I charge for a bag?", "estimate", 10, ("e33",)),
    ("do I have any coir left", "stock", 2, ("e5",)),
    # readings
    ("How wet was the middle layer before I added the dry card?", "level", 4, ("e17",)),
    ("how wet is the tote", "level", 2, ("e35",)),
    ("how warm is the tote", "level", 66, ("e25",)),
    ("how warm was the tote in celsius", "level", (66 - 32) / 1.8, ("e25",)),
    ("what was the room temperature in february", "level", 61, ("e26",)),
    ("what does the tote smell like", "level", "earthy", ("e41",)),
    ("what's the average moisture in the tote", "level", 3, ("e28", "e31", "e35")),
    ("Is it drying out?", "trend", "falling", ("e28", "e31", "e35")),
    ("Is it wetter than last time?", "compare", False, ("e31", "e35")),
    ("is it drier than last time", "compare", True, ("e31", "e35")),
    ("is the tote wetter than the tower", "compare", False, ("e28", "e31", "e35", "e17", "e19")),
    ("which bin is the driest", "compare", "tote", ("e17", "e19", "e28", "e31", "e35")),
    ("did I feed more in february than in january", "compare", False, ("e30", "e9", "e10", "e15", "e16")),
    (
        "Which is better fed, top or middle?",
        "compare",
        "top tray of the tower",
        ("e4", "e9", "e30", "e44", "e15"),
    ),
    ("what's the biggest feeding", "compare", 3, ("e10",)),
    (
        "what do I feed most often",
        "compare",
        "coffee grounds",
        ("e4", "e9", "e10", "e15", "e16", "e30", "e38", "e39", "e42", "e44"),
    ),
    (
        "how many different foods have I fed",
        "count",
        8,
        ("e4", "e9", "e10", "e15", "e16", "e30", "e38", "e39", "e42", "e44"),
    ),
    ("how old is the tower", "last", 200, ("e1",)),
    ("who am I", "list", None, ()),
    # yes, no, and what the log does not say
    ("is the tote too wet", "yes_no", False, ("e35",)),
    ("was the tote ever too wet", "yes_no", True, ("e28",)),
    ("any gnats in the tote", "yes_no", True, ("e11",)),
    ("has the avocado gone", "yes_no", False, ("e34",)),
    ("did the avocado go as I expected", "yes_no", False, ("e29", "e34")),
    ("did I feed the euro bin in february", "yes_no", False, ("e27",)),
    ("did I feed the tote yesterday", "yes_no", None, ()),
    ("have I ever used coir", "yes_no", None, ()),
    ("Do you have anything on the old tower?", "yes_no", False, ()),
    ("what's the ph of the tote", "level", None, ()),
    ("how wet is the top tray", "level", None, ()),
    ("when did I feed the fifth tray", "last", None, ()),
    ("did I feed the purple tub last week", "yes_no", None, ()),
    ("how much dragon fruit have I fed", "total", None, ()),
    ("how much did I feed in 1999", "total", None, ()),
    # what is to come
    ("When's the next grit?", "next", "2026-04-06", ("e45",)),
    ("When did I promise the school their worms?", "next", "2026-04-02", ("e37",)),
    ("when is the next harvest", "next", None, ("e24",)),
    # sums of the trade
    ("how many cups in a quart", "convert", 4, ()),
    ("what is 68 degrees fahrenheit in celsius", "convert", 20, ()),
    ("?", "list", None, ()),
]


@pytest.mark.parametrize(("question", "want", "value", "records"), ROWS, ids=[row[0] for row in ROWS])
def test_value(question: str, want: str, value: Any, records: tuple[str, ...], asked: Asked) -> None:
    answer = asked(question)
    assert answer.query.want == want
    assert answer.value == (pytest.approx(value) if isinstance(value, float) else value)
    assert answer.records == records
    assert answer.text


def test_last_week_is_the_week_before_monday_to_sunday(asked: Asked) -> None:
    answer = asked("What did I do last week?")
    assert answer.to_json()["read_as"]["from"] == "2026-03-16"
    assert answer.to_json()["read_as"]["to"] == "2026-03-22"
    assert answer.records == ("e38", "e39", "e40", "e42")
    assert "1 look besides" in answer.text


def test_what_was_said_for_today(asked: Asked) -> None:
    answer = asked("What did I say I'd do today?")
    assert answer.records == ("e43",)
    assert answer.query.state == "planned"


def test_each_bin_since_new_year(asked: Asked) -> None:
    answer = asked("How much have I put in each bin since New Year?")
    assert answer.to_json()["read_as"]["from"] == "2026-01-01"
    assert [row[0] for row in answer.value] == ["tower", "tote", "Euro bin"]  # type: ignore[union-attr,index]
    assert answer.value[2][1] is None  # type: ignore[index]
    assert "Euro bin: not mentioned" in answer.text
    assert "1 feeding with no amount" in answer.text


def test_missing_amounts_are_counted(asked: Asked) -> None:
    answer = asked("how much have I fed in all")
    assert "and 2 feedings with no amount" in answer.text
    assert {"e16", "e44"} <= set(answer.records)


def test_units_are_not_mixed_in_silence(asked: Asked) -> None:
    answer = asked("how much did I feed in january")
    assert answer.unit == "lb"
    assert answer.text.startswith("2 cups + 4.5 lb; together about")
    assert "kg/m3 as poured" in answer.text  # how the cups were weighed
    assert answer.sources


def test_due(asked: Asked) -> None:
    answer = asked("What's due today?")
    assert "look at moisture, tote" in answer.value  # type: ignore[operator]
    assert "e43" in answer.records


@pytest.mark.parametrize(
    "question",
    [
        "Should I feed or wait?",
        "Why are they on the lid?",
        "Why did the gnats come back?",
        "Should I stir it?",
    ],
)
def test_no_verdict(question: str, asked: Asked) -> None:
    """The shape of an answer: the record, the usual with its source, where to look; no yes or no."""
    answer = asked(question)
    assert answer.value is None
    assert answer.sources
    first, *rest = answer.text.split("\n")
    assert first.startswith("What the record shows")
    assert any(line.startswith("Possibly related: ") and "[" in line for line in rest)
    assert any(line.startswith("To look at next: ") for line in rest)


def test_explained_with_a_source(asked: Asked) -> None:
    """LEACH: leachate is not tea."""
    answer = asked("Is the drainage the same as tea?")
    assert answer.sources == ("LEACH",)
    assert "not tea" in str(answer.value)


def test_every_want_of_the_contract_is_there() -> None:
    wants = (
        "list count total last first next level trend compare yes_no rate stock estimate advise explain mix "
        "convert"
    )
    assert set(WANTS) == set(wants.split())


def test_shown_in_words(asked: Asked, facts: Any) -> None:
    answer = asked("how much did I feed the bottom tray of the tower last week")
    assert answer.query.words(facts.bins) == "feedings, bottom tray of the tower, 16 to 22 March 2026"


def test_json_is_that_of_the_contract(asked: Asked) -> None:
    data = asked("how much coffee did I feed the tower in march").to_json()
    keys = {"question", "read_as", "value", "unit", "low", "high", "records", "text"}
    assert keys <= set(data)
    assert (
        data["read_as"]
        | {
            "want": "total",
            "kind": "feed",
            "item": "coffee grounds",
            "bin": "tower",
            "tier": None,
            "from": "2026-03-01",
            "to": "2026-03-25",
        }
        == data["read_as"]
    )
