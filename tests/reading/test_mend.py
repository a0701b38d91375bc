"""What speech-to-text got wrong is mended where it makes no sense, and only there."""

from __future__ import annotations

import pytest

from tests.reading.misheard import WAYS, changed
from tests.reading.notesets import reader

MENDED = [
    ("three courts kale", "courts", "quarts"),
    ("the lower tree has fuzz", "tree", "tray"),
    ("the sump's try", "try", "dry"),
    ("fed four cups of lettise", "lettise", "lettuce"),
    ("est 2 lbs of wurms", "wurms", "worms"),
    ("shredded cartboard over it", "cartboard", "cardboard"),
    ("plenty of coccoons", "coccoons", "cocoons"),
    ("opened the botom tray", "botom", "bottom"),
    ("14 lb of wormz off the trommel", "wormz", "worms"),
]
SENSIBLE = [
    "the cops came by",
    "put the tree back in the yard",
    "I'll try the middle one",
    "and harvest it then",
    "when everybody is napping",
    "fed Louise some kale",
    "there's a speck of it left",
    "put the lid back on and pulled the top tray",
    "in bin two back left corner a cup of kale",
    "six sprays over the whole lot",
]


@pytest.mark.parametrize(("text", "heard", "meant"), MENDED)
def test_a_word_that_makes_no_sense_is_read_as_the_one_that_would(text: str, heard: str, meant: str) -> None:
    mended = reader().mender.mend(text)
    assert [(was, now) for _, _, was, now in mended.repairs] == [(heard, meant)]


@pytest.mark.parametrize("text", SENSIBLE)
def test_a_word_that_makes_sense_is_left_alone(text: str) -> None:
    assert reader().mender.mend(text).repairs == ()


@pytest.mark.parametrize("way", WAYS)
def test_a_misheard_note_differs_and_is_the_same_each_time(way: str) -> None:
    note = {"id": "x", "text": "worms bin bedding castings tray lettuce cardboard coffee grounds " * 20}
    heard = WAYS[way]([note])
    text, count = changed(note, heard)
    assert count > 0
    assert text != note["text"]
    assert changed(note, WAYS[way]([note])) == (text, count)
