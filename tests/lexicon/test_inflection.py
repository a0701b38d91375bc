"""The other number of English nouns (common practice, no source); the irregular ones are data."""

from __future__ import annotations

import pytest

from lexicon import inflect, load

PAIRS = [
    ("rind", "rinds"),
    ("loaf", "loaves"),
    ("potato", "potatoes"),
    ("mango", "mangos"),
    ("peach", "peaches"),
    ("radish", "radishes"),
    ("box", "boxes"),
    ("moss", "mosses"),
    ("berry", "berries"),
    ("cookie", "cookies"),
    ("tray", "trays"),
    ("olive", "olives"),
    ("mouse", "mice"),
    ("leaf", "leaves"),
    ("fungus gnat", "fungus gnats"),
    ("sheet of newspaper", "sheets of newspaper"),
    ("bag of worms", "bags of worms"),
    ("heel of bread", "heels of bread"),
]
REGULAR = {"potato", "mango"}  # two plurals are in use, each leads back to the one singular


@pytest.mark.parametrize(("one", "many"), PAIRS)
def test_there_and_back(one: str, many: str) -> None:
    assert inflect(many) == (one,)
    if one not in REGULAR:
        assert inflect(one) == (many,)


@pytest.mark.parametrize(
    "form", ["grounds", "coffee grounds", "reds", "greens", "fish", "asparagus", "em-1", "overs"]
)
def test_words_with_one_number(form: str) -> None:
    assert inflect(form) == ()


def test_the_irregular_ones_lead_both_ways() -> None:
    for row in load().table("irregular"):
        assert inflect(row["word"]) == ((row["other"],) if row["other"] else ()), row
        if row["other"]:
            assert inflect(row["other"]) == (row["word"],), row
