"""Inputs to survive, by what they say: figures, places, days, other tongues (rows 10 to 27 of the list)."""

from __future__ import annotations

import json
import math
import os
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.records import ACTIONS, Bin, Record
from tests.inputs.program import NOW, STACK, TUB, Desk, read
from tests.reading import notesets

TODAY = NOW[:10]


def one(text: str, kind: str, setup: tuple[Bin, ...] = TUB) -> Record:
    """The one record of a kind in a note."""
    found = [r for r in read(text, setup) if r.kind == kind]
    assert len(found) == 1, found
    return found[0]


FIGURES = [
    # row, note, kind, low, best, high, unit, unsure
    (10, "Fed the tub ½ cup of kale.", "feed", 0.5, 0.5, 0.5, "cup", False),
    (10, "Fed the tub 1½ cups of kale.", "feed", 1.5, 1.5, 1.5, "cup", False),
    (10, "Fed the tub 1 1/2 cups of kale.", "feed", 1.5, 1.5, 1.5, "cup", False),
    (10, "Fed the tub ⅓ cup of kale.", "feed", 1 / 3, 1 / 3, 1 / 3, "cup", False),
    (11, "Fed the tub 2–3 cups of kale.", "feed", 2, 2.5, 3, "cup", False),
    (11, "The shed’s reading −2 C.", "temperature", -2, -2, -2, "degC", False),
    (11, "“Fed the tub 2 cups of kale,” she’d say.", "feed", 2, 2, 2, "cup", False),
    (12, "Poured 1,5 litres of water into the tub.", "water", 1.5, 1.5, 1.5, "litre", True),
    (12, "Added 1,500 g of coir to the tub.", "bed", 1500, 1500, 1500, "g", False),
    (
        18,
        "Counted ninety nine thousand nine hundred and ninety nine worms in the tub.",
        "",
        99999,
        99999,
        99999,
        "piece",
        False,
    ),
]


@pytest.mark.parametrize(("row", "text", "kind", "low", "best", "high", "unit", "unsure"), FIGURES)
def test_rows_10_to_18_figures(
    row: int, text: str, kind: str, low: float, best: float, high: float, unit: str, unsure: bool
) -> None:
    found = [r for r in read(text) if r.amount and kind in ("", r.kind)]
    assert len(found) == 1
    amount = found[0].amount
    assert amount is not None
    for got, wanted in zip((amount.low, amount.best, amount.high), (low, best, high), strict=True):
        assert math.isclose(got, wanted, rel_tol=1e-4)
    assert amount.unit == unit
    assert bool(found[0].unsure) == unsure


@pytest.mark.parametrize(
    "text",
    [
        "Fed the tub 1e309 cups of kale.",
        "Fed the tub 999999999999999999999 kg of kale.",
        "Fed the tub minus three cups of kale.",
        "Fed the tub -3 cups of kale.",
        "Kale -1 in the tub.",
    ],
)
def test_rows_13_and_14_no_amount_that_cannot_be(text: str) -> None:
    record = one(text, "feed")
    assert record.amount is None
    assert record.unsure


@pytest.mark.parametrize("text", ["0 handfuls of kale for the tub.", "Fed the tub zero cups of kale."])
def test_row_15_nothing_breaks_on_none_at_all(desk: Desk, text: str) -> None:
    desk.note(text)
    assert all(e.record.amount is None or e.record.amount.best == 0 for e in desk.entries())
    for words in (
        ["balances"],
        ["balances", "--json"],
        ["due"],
        ["ask", "how much kale have I fed?"],
        ["ask", "how often do I feed?"],
    ):
        assert desk.run(*words).status == 0


@pytest.mark.parametrize(
    "text",
    ["The tub is nan degrees.", "Fed the tub inf pounds of kale.", "Fed the tub infinity cups of kale."],
)
def test_row_16_words_that_are_no_figures(text: str) -> None:
    assert all(r.amount is None for r in read(text))


def test_row_17_nested_fractions_stay_finite() -> None:
    for record in read("Fed the tub half a third of two dozen cups of kale."):
        assert record.amount is None or math.isfinite(record.amount.best)


@pytest.mark.parametrize("text", ["Fed the fifth tray two cups of kale.", "Fed tray 5 two cups of kale."])
def test_row_19_a_tray_that_is_not_there(text: str) -> None:
    record = one(text, "feed", STACK)
    assert record.tier is None and record.unsure and record.item == "kale"


@pytest.mark.parametrize(
    ("text", "name"), [("Fed the blue tub kale.", "blue tub"), ("Fed the tub kale.", "tub")]
)
def test_row_20_the_longest_name_wins(text: str, name: str) -> None:
    for setup in ((Bin("tub"), Bin("blue tub")), (Bin("blue tub"), Bin("tub"))):
        assert one(text, "feed", setup).bin == name


NO_NAMES = ["bottom", "feed", "today", "a"]


@pytest.mark.parametrize("name", NO_NAMES)
def test_row_21_a_set_up_with_a_name_that_no_bin_can_have(desk: Desk, tmp_path: Path, name: str) -> None:
    setup = tmp_path / "bins.json"
    setup.write_text(json.dumps([{"name": name}]), encoding="utf-8")
    assert f"'{name}'" in desk.run("parse", "--setup", str(setup), "fed it kale").refused()


@pytest.mark.parametrize("name", NO_NAMES)
def test_row_21_records_for_a_bin_of_such_a_name(desk: Desk, tmp_path: Path, name: str) -> None:
    log = tmp_path / "records.jsonl"
    log.write_text(json.dumps({"setup": [{"name": name}]}) + "\n", encoding="utf-8")
    fresh = tmp_path / "fresh"
    assert f"'{name}'" in desk.run("import", str(log), log=fresh).refused()
    assert json.loads(desk.run("bins", "--json", log=fresh).out) == []


@pytest.mark.parametrize("name", NO_NAMES)
def test_row_21_a_bin_told_by_such_a_name(desk: Desk, name: str) -> None:
    desk.run("bins", f"a bin called {name}")
    assert all(one["name"] != name for one in json.loads(desk.run("bins", "--json").out))


@pytest.mark.parametrize(
    "text",
    [
        "Fed the tub kale on 31 February.",
        "Fed the tub kale on the 32nd.",
        "Fed the tub kale on 1 March 9999.",
        "Fed the tub kale on 1 March 0001.",
        "Fed the tub kale on 30/02/2026.",
    ],
)
def test_row_22_days_that_are_none(text: str) -> None:
    record = one(text, "feed")
    assert (record.when, bool(record.unsure)) == (TODAY, True)


def test_row_23_done_on_a_day_to_come() -> None:
    record = one("Tomorrow I fed the tub kale.", "feed")
    assert record.unsure


@pytest.fixture
def zone(monkeypatch: pytest.MonkeyPatch) -> Iterator[pytest.MonkeyPatch]:
    """Sets the time zone of this process, and puts it back."""
    yield monkeypatch
    monkeypatch.undo()
    time.tzset()


@pytest.mark.parametrize(
    "moments",
    [
        ["2026-03-28T23:50", "2026-03-29T02:30", "2026-03-29T03:10"],  # 02:30 is left out in Berlin
        ["2026-10-25T02:30", "2026-10-25T02:10", "2026-10-25T03:00"],  # 02:10 to 02:59 come twice
        ["2026-03-10T23:30-05:00", "2026-03-11T06:00+01:00", "2026-03-11T23:59"],
    ],
)
def test_row_24_dates_stay_those_of_the_keeper(
    desk: Desk, zone: pytest.MonkeyPatch, moments: list[str]
) -> None:
    for moment, place in zip(moments, ("Europe/Berlin", "Europe/Berlin", "America/New_York"), strict=True):
        zone.setitem(os.environ, "TZ", place)
        time.tzset()
        desk.note(f"fed the tub kale at {moment[11:13]}", moment)
    assert [n.said_on[:16] for n in desk.notes()] == [m[:16] for m in moments]
    assert [e.record.when for e in desk.entries()] == [m[:10] for m in moments]
    assert desk.run("ask", "when did I last feed the tub?", now=moments[-1]).status == 0


def test_row_25_a_clock_set_back_a_year(desk: Desk) -> None:
    desk.run("note", "fed the tub kale")
    later = desk.run("note", "fed the tub melon", now="2025-03-10T19:00:00")
    assert later.status == 0 and "2025-03-10" in later.err and "Traceback" not in later.err
    # the log gives its notes in order of their dates (assistant/log/view.py), not of their keeping
    assert [n.text for n in desk.notes()] == ["fed the tub melon", "fed the tub kale"]


OTHER_TONGUES = [
    "Ce matin j'ai donné deux tasses d'épluchures de carottes au bac, la litière est humide.",
    "Hoy le di al contenedor dos tazas de cáscaras de plátano y un poco de cartón.",
    "Heute habe ich der Kiste zwei Tassen Kaffeesatz gegeben, das Futter ist fast weg.",
    "今天我给箱子加了两杯咖啡渣，床土有点湿。",
    "今日はコーヒーかすを二杯入れました。",
]


@pytest.mark.parametrize("text", OTHER_TONGUES)
def test_row_26_other_tongues_are_kept_and_nothing_is_guessed(desk: Desk, text: str) -> None:
    desk.note(text)
    assert not [e.record for e in desk.entries() if e.record.unsure]
    assert not [e.record for e in desk.entries() if e.record.kind in ACTIONS]


NOT_A_NOTE = {  # our own words
    "novel": """
        The carriage drew up before the inn at dusk. Margaret stepped down into the mud, drew her shawl
        about her shoulders and looked for the boy who had promised to meet her. There was no one in the
        yard but an old man mixing feed for the horses. He turned, slowly, and took the pipe from his mouth.
        "You'll be wanting supper," he said, and she thought of the bread and the cold meat in her basket,
        and of the letter that lay beneath them. She had given him two shillings before she knew it. The
        fire in the parlour had gone out; somebody had put wet leaves on it.""",
    "recipe": """
        Carrot soup. Serves four. Peel 500 g of carrots and chop them with one onion. Melt two tablespoons of
        butter in a deep pan, add the vegetables and a cup of water, cover and simmer for 20 minutes. Stir in
        half a cup of cream, season with salt and pepper, and serve with bread.""",
    "shopping list": """milk
        2 lb carrots
        a loaf of bread
        coffee
        bananas (6)
        lettuce
        eggs, a dozen
        kitchen roll""",
}


@pytest.mark.parametrize("name", NOT_A_NOTE)
def test_row_27_what_is_no_note_records_nothing(name: str) -> None:
    assert not read(NOT_A_NOTE[name])


ORDINARY = (Path(__file__).parent / "ordinary.txt").read_text(encoding="utf-8").splitlines()
"""News, kitchen, garden, garage, travel, office, children: our own words, none of them on a worm bin."""


@pytest.mark.parametrize("setup", [TUB, STACK, TUB + STACK, ()], ids=["tub", "stack", "both", "none"])
def test_row_27_ordinary_talk_records_nothing(setup: tuple[Bin, ...]) -> None:
    assert len(" ".join(ORDINARY).split()) > 5000
    assert not [r for text in (*ORDINARY, "\n".join(ORDINARY)) for r in read(text, setup)]


def test_row_27_ordinary_talk_is_not_repaired() -> None:
    mender = notesets.reader().mender
    assert not [repair for text in ORDINARY for repair in mender.mend(text).repairs]


@pytest.mark.parametrize("text", ORDINARY[::9])
def test_row_27_a_note_within_ordinary_talk_is_still_read(text: str) -> None:
    note = "Fed the cellar stack two cups of kale, top tray. Saw a few springtails, and the bedding is damp."
    assert [r.kind for r in read(f"{text}\n\n{note}\n", STACK)][-3:] == ["feed", "sighting", "moisture"]
