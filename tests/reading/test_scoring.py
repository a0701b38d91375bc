"""Our scoring against the script that came with the contract (where it is there), and on cases by hand."""

from __future__ import annotations

import copy
import importlib.util
import random
from collections.abc import Iterator, Mapping
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from tests.reading import notesets, versus
from tests.reading.scoring import Score, score_note
from tests.reading.slots import BASE, converted, right_slots

SCRIPT = Path(__file__).parents[3] / "shared" / "score_notes.py"
CHANGES: dict[str, list[Any]] = {
    "kind": ["feed", "bed", "remark", "sighting"],
    "state": ["done", "planned"],
    "tier": [None, 1, 2],
    "item": ["kale", "molds", "Fresh Peaches", None],
    "level": [None, 0, 1, 0.5, "x"],
    "when": [None, "2026-03-10T12:00", "2025-06-14"],
    "amount": [None, {"best": 2, "unit": "cup"}, {"best": 1, "unit": "gram"}, {"unit": "lb"}],
    "price": [None, {"value": 8, "currency": "USD"}],
}


@pytest.fixture(scope="module")
def script() -> ModuleType:
    if not SCRIPT.is_file():
        pytest.skip("the contract's scoring script is not beside this checkout")
    spec = importlib.util.spec_from_file_location("score_notes", SCRIPT)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def misread(notes: list[Mapping[str, Any]], seed: int) -> dict[str, list[dict[str, Any]]]:
    """Readings made from the gold records: some dropped, some doubled, slots changed, in another order."""
    dice = random.Random(seed)
    readings = {}
    for note in notes:
        records = []
        for gold in note["records"]:
            one = {
                k: dice.choice(v) if isinstance(v, list) and v else v for k, v in copy.deepcopy(gold).items()
            }
            for slot in dice.sample(sorted(CHANGES), dice.choice((0, 0, 0, 1, 2))):
                one[slot] = dice.choice(CHANGES[slot])
            records += [one] * dice.choice((0, 1, 1, 1, 1, 2))
        dice.shuffle(records)
        readings[note["id"]] = records
    readings.pop(notes[0]["id"])
    return readings


def ours(score: Score) -> dict[str, Any]:
    """The figures of a score, rounded as the script rounds them."""
    shares = (("found", score.found), ("whole", score.whole))
    return {
        "read": score.whole.read,
        "records": score.whole.gold,
        **{
            name: {
                "precision": round(s.precision, 4),
                "recall": round(s.recall, 4),
                "f1": round(s.f1, 4),
            }
            for name, s in shares
        },
        "slots": {k: {"right": round(right / of, 4), "of": of} for k, (right, of) in score.slots.items()},
        "invented_per_1000_words": round(score.invented, 3),
        "notes_without_a_fault": round(score.clean, 4),
        "by_kind": {k: {"f1": round(s.f1, 3), "gold": s.gold} for k, s in score.by_kind().items()},
        "by_style": {k: {"f1": round(s.f1, 3), "gold": s.gold} for k, s in score.by_style().items()},
    }


@pytest.mark.parametrize("name", notesets.available())
def test_the_figures_are_those_of_the_contracts_script(name: str, script: ModuleType) -> None:
    # source: score_notes.py, which came with the record contract
    notes = notesets.lines_of(notesets.available()[name])
    for seed in range(3):
        readings = misread(notes, seed)
        theirs = script.score(copy.deepcopy(notes), copy.deepcopy(readings))
        mine = ours(Score([score_note(note, readings.get(note["id"], ())) for note in notes]))
        assert {k: theirs[k] for k in mine} == mine
        assert 0.3 < mine["whole"]["f1"] < 0.95  # the changes matter


def test_units_are_those_of_the_contracts_script(script: ModuleType) -> None:
    units = [*BASE, "degF", "degC", "handful", "gram", "pH"]
    assert set(script.TO_BASE) == set(BASE)
    for unit in units:
        for wanted in units:
            assert converted(3.0, unit, wanted) == script.in_unit(3.0, unit, wanted), (unit, wanted)


def gold_cases() -> Iterator[tuple[dict[str, Any], dict[str, Any], list[str]]]:
    """(gold, read, the slots that are wrong), by hand from the rules of the contract."""
    feed = {
        "kind": "feed",
        "state": "done",
        "item": ["kale", "greens"],
        "tier": [1, None],
        "when": "2026-03-10",
    }
    read = {"kind": "feed", "state": "done", "item": "greens", "tier": 1, "when": "2026-03-10T19:00"}
    yield feed, read, []
    yield (
        feed,
        read | {"item": "melon", "state": "planned", "tier": 2, "when": None},
        ["item", "state", "tier", "when"],
    )
    yield {"kind": "feed", "item": "melon rinds"}, {"item": "Chopped melon rind"}, []
    yield {"kind": "turn", "item": None}, {"item": "bedding"}, []
    cup = {"kind": "feed", "amount": {"low": 1, "best": 1, "high": 2, "unit": "cup"}}
    yield cup, {"amount": {"best": 0.5, "unit": "quart"}}, []
    yield cup, {"amount": {"best": 2.1, "unit": "cup"}}, ["amount"]
    yield cup, {"amount": {"best": 1, "unit": "lb"}}, ["amount"]
    yield cup, {"amount": None}, ["amount"]
    yield cup | {"amount": [None, cup["amount"]]}, {"amount": None}, []
    yield {"kind": "sighting", "level": 1}, {"level": 2}, []
    yield {"kind": "sighting", "level": 0}, {"level": 1}, ["level"]
    yield {"kind": "leftover", "level": 0.5}, {"level": 0.25}, []
    yield {"kind": "cover", "level": 1}, {"level": 0}, ["level"]
    yield {"kind": "buy", "price": {"value": 8}}, {"price": {"value": 8.0}}, []
    yield {"kind": "buy", "price": {"value": 8}}, {}, ["price"]


@pytest.mark.parametrize(("gold", "read", "wrong"), list(gold_cases()))
def test_slots_right_and_wrong(gold: dict[str, Any], read: dict[str, Any], wrong: list[str]) -> None:
    assert [name for name, right in right_slots(gold, read, {}).items() if not right] == wrong


def test_a_comparison_names_what_was_mended_and_what_was_broken() -> None:
    gold = [{"kind": "feed", "item": "kale", "text": "kale"}, {"kind": "bed", "item": "coir", "text": "coir"}]
    note = {"id": "n", "text": "kale and coir", "records": gold}
    before, now = (Score([score_note(note, [record])]) for record in gold)
    lines = "\n".join(versus.compared(before, now))
    assert "mended  missed" in lines and '"item": "coir"' in lines.split("mended")[1].split("\n")[0]
    assert "broken  missed" in lines and '"item": "kale"' in lines.split("broken")[1].split("\n")[0]
