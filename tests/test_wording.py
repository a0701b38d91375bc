"""Records in plain words. The sentences are ours; fields and scales are those of the contract, 2 to 4."""

from __future__ import annotations

import pytest

from assistant.outlook import Due
from assistant.records import KINDS, Amount, Bin, Entry, Price, Record
from assistant.wording import ACTS, bin_line, due_json, due_line, line

SAID = "2026-06-14T18:30:00"


def said(record: Record, at: float | None = None) -> str:
    return line(Entry("e", "n", SAID, record, at))


@pytest.mark.parametrize(
    ("record", "words"),
    [
        (
            Record(
                "feed",
                "done",
                "tower",
                2,
                item="kale",
                amount=Amount.exactly(2, "handful"),
                when="2026-06-14",
            ),
            "fed 2 handfuls of kale, tower, tier 2 from the top, 14 June",
        ),
        (Record("feed", item="melon rinds", amount=Amount.exactly(5, "piece")), "fed 5 melon rinds"),
        (Record("feed", amount=Amount(2, 2.5, 3, "cup")), "fed 2.5 (2 to 3) cups"),
        (Record("feed", "ruled_out", "tub", when="2026-06-14"), "did not feed, tub, 14 June"),
        (Record("water", "planned", "tub"), "planned: give water, tub, no day set"),
        (Record("harvest", "planned", when="2027-01-02"), "planned: harvest castings, due 2 January 2027"),
        (Record("cover", item="lid", level=0), "took off lid"),
        (Record("cover", item="burlap", level=1), "covered with burlap"),
        (
            Record("move", tier=1, to_tier=2, item="bedding"),
            "moved bedding, top tier, into tier 2 from the top",
        ),
        (Record("restack", tier=3, to_tier=1), "moved tier 3 from the top to where the top tier was"),
        (Record("restack", to_tier=1), "added a tier as the top tier"),
        (Record("restack", tier=2), "took off tier 2 from the top"),
        (Record("buy", item="worms", price=Price(11)), "bought worms for 11 USD"),
        (Record("moisture", level=4), "moisture: wet"),
        (Record("moisture", amount=Amount.exactly(60, "percent")), "moisture: 60 %"),
        (Record("temperature", item="air", amount=Amount.exactly(61, "degF")), "room temperature: 61 °F"),
        (Record("ph", amount=Amount.exactly(6.8, "pH")), "pH 6.8"),
        (Record("sighting", item="mites", level=0), "no mites seen"),
        (Record("sighting", item="mites", level=4), "saw a swarm of mites"),
        (Record("sighting", item="worms", level=2, amount=Amount.exactly(23, "piece")), "saw 23 worms"),
        (Record("leftover", item="rye", level=0.25), "rye: a little left"),
        (
            Record("leftover", "expected", item="rye", level=0, when="2026-06-15"),
            "expected: rye: all gone, by 15 June",
        ),
        (Record("progress", level=1), "castings: ready"),
        (Record("smell", item="none"), "no smell"),
        (Record("smell", item="sour"), "smell: sour"),
        (Record("remark", text="a  quiet\nweek"), "noted: a quiet week"),
        (Record("feed", item="kale", when="2026-06-14T07:05:00"), "fed kale, 14 June 07:05"),
        (Record("feed", item="kale", unsure=("the bin", "the day")), "fed kale; guessed: the bin, the day"),
    ],
)
def test_line(record, words):
    assert said(record) == words


def test_the_place_in_a_recording():
    assert said(Record("feed", item="kale"), at=185.4) == "fed kale, at 3:05 in the recording"


def test_every_kind_and_state_has_words():
    for kind in KINDS:
        for state in ("done", "planned", "expected", "ruled_out"):
            words = said(Record(kind, state, item="x", text="x"))
            assert words.strip(" ,:") and "None" not in words and "{" not in words, (kind, state, words)
    assert set(ACTS) - {"uncover"} < KINDS


def test_bins_and_dues():
    assert (
        bin_line(Bin("tower", 3, ("the stack", "big one")))
        == "tower (3 tiers), also called the stack or big one"
    )
    assert bin_line(Bin("tub")) == "tub"
    due = Due(
        "add a little water", "tower", 1, "2026-06-14", "dry at the last look", ("r",), "drifting", "EE349"
    )
    assert due_line(due) == "14 June 2026: add a little water, tower, top tier (dry at the last look)"
    assert due_json(due)["records"] == ["r"] and due_json(due)["source"] == "EE349"
