"""Balances as rows, as a table and as JSON."""

from __future__ import annotations

import json
from typing import Any

import pytest

from assistant.balance import rows, table, to_json
from lexicon import Lexicon

FED = {"kind": "feed", "item": "coffee grounds", "tier": 1}


@pytest.fixture
def full(log: Any) -> Any:
    log.note(
        "2026-03-01",
        *[FED | {"amount": (2, "handful")}] * 7,
        FED,
        FED | {"item": "melon rind"},
        {"kind": "bed", "item": "shredded cardboard", "tier": 1, "amount": (3, "inch")},
        {"kind": "moisture", "level": 4, "tier": 1},
        {"kind": "sighting", "item": "worms", "level": 3, "tier": 1},
        {"kind": "worm_estimate", "item": "worms", "tier": None, "amount": (800, 1000, 1200, "piece")},
        {"kind": "harvest", "item": "castings", "tier": 3, "amount": (2, "cup")},
        {"kind": "sell", "item": "castings", "amount": (5, "cup"), "price": 12, "bin": None},
    )
    return log


def test_the_keepers_own_words_come_first(full: Any) -> None:
    text = " ".join(table(full.fold("2026-03-01"), 600).split())
    assert "14 handfuls, and 2 feedings with no amount given" in text
    assert "3 inches" in text and "moisture wet, today; worms many, today" in text


def test_what_is_left_is_told_with_its_range(full: Any) -> None:
    books = full.fold("2026-03-09")
    [left] = rows(books)[0].food.left
    words = f"left {left.best:.1f} ({left.low:.1f} to {left.high:.1f}) handfuls"
    assert words.replace(".0", "") in " ".join(table(books, 600).split())


@pytest.mark.parametrize("width", [20, 40, 59, 60, 80, 132])
def test_no_line_is_wider_than_asked(full: Any, width: int) -> None:
    assert max(map(len, table(full.fold("2026-03-09"), width).splitlines())) <= width


def test_columns_are_aligned(full: Any) -> None:
    lines = table(full.fold("2026-03-09"), 100).splitlines()
    rule = next(line for line in lines if set(line) == {"-", " "})
    starts = [at for at, sign in enumerate(rule) if sign == "-" and (at == 0 or rule[at - 1] == " ")]
    head = lines[lines.index(rule) - 1]
    assert [head[at:].split("  ")[0] for at in starts] == [
        "tier",
        "last fed",
        "food waiting",
        "bedding",
        "last seen",
    ]


def test_what_does_not_add_up_is_shown(full: Any) -> None:
    assert "? 3 cups more castings went out than is on record as coming in" in table(
        full.fold("2026-03-09"), 100
    )


def test_nothing_on_record(log: Any) -> None:
    assert "cellar stack" in table(log.fold("2026-03-01"), 80)
    assert all(not row.records for row in rows(log.fold("2026-03-01")))


def test_json_gives_units_sources_and_records(full: Any, lexicon: Lexicon) -> None:
    data = json.loads(json.dumps(to_json(full.fold("2026-03-09"))))
    top = data["bins"][0]["places"][0]
    assert top["tier"] == 1 and top["food"]["put_in"] == [
        {"low": 14, "best": 14, "high": 14, "unit": "handful"}
    ]
    assert top["food"]["mass"]["unit"] == "kg"
    assert top["food"]["mass"]["low"] < top["food"]["mass"]["best"] < top["food"]["mass"]["high"]
    codes = {row["code"] for row in lexicon.table("sources")}
    first = top["portions"][0]
    assert first["record"] == "r1" and "kg/m3" in first["reckoned"]
    assert set(first["sources"]) <= codes
    assert all(set(one["source"].split(";")) <= codes for one in first["figures"].values())
    assert first["loss"]["source"] in codes
    assert "r1" in top["records"]
    [stock] = data["stocks"]
    assert stock["now"] == {"low": -3, "best": -3, "high": -3, "unit": "cup"}
    assert any("r15" in doubt["records"] for doubt in data["doubts"])


def test_the_makeup_of_one_material_is_its_own(log: Any, lexicon: Lexicon) -> None:
    """Moisture and C:N of a tray with one material in it, the day it went in, are those of the lexicon."""
    log.note("2026-03-01", FED | {"amount": (2, "lb")})
    figures = lexicon.things["food"]["coffee grounds"].figures
    made = rows(log.fold("2026-03-01"))[0].makeup
    assert made.moisture is not None and made.c_to_n is not None
    assert made.moisture.best == pytest.approx(figures["moisture"].best)
    assert made.c_to_n.best == pytest.approx(figures["c_to_n"].best)
    kilos = 2 * 0.45359237
    assert made.dry.best + made.water.best == pytest.approx(kilos)
    assert made.nitrogen.best == pytest.approx(made.dry.best * figures["nitrogen"].best / 100)


def test_what_is_worked_through_gives_castings_and_goes_off(log: Any, trade: Any) -> None:
    """HEV: about half of the solids worked through goes off as carbon dioxide; nitrogen stays."""
    log.note("2026-03-01", FED | {"amount": (2, "lb")})
    fresh, later = (rows(log.fold(day))[0].makeup for day in ("2026-03-01", "2026-09-01"))
    lost = trade.rules.need("solids_lost").value
    assert fresh.castings.best == 0
    worked = later.castings.best / (1 - lost)
    assert fresh.dry.best - later.dry.best == pytest.approx(worked * lost)
    assert later.nitrogen.best == pytest.approx(fresh.nitrogen.best)
    assert later.c_to_n is not None and fresh.c_to_n is not None and later.c_to_n.best < fresh.c_to_n.best
