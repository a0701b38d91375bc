"""Warnings that published limits call for (T33 in a bin, T35 to T37, T39, T40 of the list of checks)."""

from __future__ import annotations

from datetime import date

import pytest

import lexicon as data
from assistant import formulas
from assistant.balance import Trade, fold
from assistant.outlook import cautions, due
from assistant.records import Amount, Bin, Entry, Record

SETUP = (Bin("tote", 1, species=("Eisenia fetida",)),)
NOW = date(2026, 7, 1)


def said(kind: str, item: str | None, amount: Amount) -> list[Entry]:
    record = Record(kind, bin="tote", item=item, amount=amount, when=NOW.isoformat())
    return [Entry("r1", "n1", f"{NOW.isoformat()}T09:00:00", record)]


def sources(entries: list[Entry]) -> list[str]:
    return [one.source for one in due(entries, SETUP, NOW, data.load()) if one.kind == "drifting"]


@pytest.mark.parametrize(
    ("degrees", "source"),
    [
        (Amount.exactly(32, "degC"), "EE349"),  # T35: over 30 C, the breeding limit
        (Amount.exactly(36, "degC"), "SPEC1"),  # over 35 C, the most they are said to bear
        (Amount.exactly(2, "degC"), "EE349"),  # below 4 C
        (Amount.exactly(89.6, "degF"), "EE349"),
        (Amount.exactly(24, "degC"), None),
    ],
    ids=lambda value: str(value.best) if isinstance(value, Amount) else str(value),
)
def test_warmth_of_a_bed_of_eisenia_fetida(degrees: Amount, source: str | None) -> None:
    found = sources(said("temperature", "bed", degrees))
    assert len(found) == (1 if source else 0)
    assert all(source in one for one in found if source)


@pytest.mark.parametrize(("level", "warns"), [(9.2, True), (4.8, True), (7.0, False), (5.5, False)])
def test_acidity(level: float, warns: bool) -> None:
    """T36. KAP80: all dead within a week above pH 9; EE349: over 5 and under 9."""
    assert bool(sources(said("ph", None, Amount.exactly(level, "pH")))) is warns


@pytest.mark.parametrize(("percent", "side"), [(0.6, "above"), (0.4, None)])
def test_salt(percent: float, side: str | None) -> None:
    """T37. KAP80 and EE349: over 0.5 % is lethal. No record holds salt; the limit is there to be asked."""
    assert Trade.of(data.load()).rules.need("salt").side(percent) == side


def test_a_bed_ten_degrees_cooler_loses_half_as_fast() -> None:
    """T33. KATT98: a factor of 2 for 10 C, so a rate at 20 C is halved at 10 C."""
    food = Record("feed", bin="tote", item="carrot", amount=Amount.exactly(1, "lb"), when="2026-06-01")
    cold = Record("temperature", bin="tote", item="bed", amount=Amount.exactly(10, "degC"), when="2026-06-01")
    entries = [Entry(f"r{at}", "n1", "2026-06-01T09:00:00", one) for at, one in enumerate((cold, food))]
    lost = []
    for held in (entries, entries[1:]):
        books = fold(held, SETUP, date(2026, 6, 21), data.load())
        [portion] = books.bins["tote"].places["1"].portions()
        now = portion.at(books.bins["tote"].clock.at(books.now.toordinal()))
        lost.append(formulas.rate_from_loss(1 - now.left.best, 20))
    assert lost[0] / lost[1] == pytest.approx(0.5)


def test_jumping_worms_bring_up_the_law_on_keeping_them() -> None:
    """T39. MNDNR: no possession, sale or moving without a permit in Minnesota; other states differ."""
    found = cautions([], "I think these are jumping worms, up here in Minnesota", data.load())
    texts = " ".join(one.text.lower() for one in found if "MNDNR" in one.source)
    assert "minnesota" in texts or "local" in texts or "state" in texts


def test_pathogen_heat_rule_is_wording_and_no_laboratory_result() -> None:
    """T40. CFR257: 55 C for 3 days in a vessel."""
    rules = Trade.of(data.load()).rules
    heat, days = rules.need("hot_vessel").value, rules.need("hot_vessel_days").value
    assert (heat, days) == (55, 3)
    assert formulas.held_long_enough(55, 3, heat, days)
    assert not formulas.held_long_enough(55, 2, heat, days)
    found = cautions([], "it held 55 C for three days, so the pathogens are gone", data.load())
    assert any("CFR257" in one.source for one in found)
