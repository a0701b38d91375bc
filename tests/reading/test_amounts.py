"""Amounts: the list of amounts.tsv by rule 7 of the contract, inputs to survive, pint for sums of units."""

from __future__ import annotations

import csv
import math
from functools import cache
from pathlib import Path
from typing import Any

import pint
import pytest
import spacy
from hypothesis import given, settings
from hypothesis import strategies as st
from spacy.language import Language

from assistant.reading.amounts import AmountSpan, Measures, find_amounts
from lexicon import load

ROWS = {
    row["phrase"]: row["amounts"]
    for row in csv.DictReader(
        (Path(__file__).parent / "amounts.tsv").read_text(encoding="utf-8").splitlines(),
        delimiter="\t",
        quoting=csv.QUOTE_NONE,
    )
}


@cache
def measures() -> Measures:
    return Measures(load().table("measures"))


@cache
def tokenizer() -> Language:
    return spacy.blank("en")


def words(text: str) -> list[str]:
    return [token.lower_ for token in tokenizer()(text)]


def amounts(text: str) -> list[AmountSpan]:
    return find_amounts(words(text), measures())


def one(text: str) -> AmountSpan:
    (found,) = amounts(text)
    return found


def said(text: str) -> list[str]:
    tokens = words(text)
    return [" ".join(tokens[a.start : a.end]) for a in find_amounts(tokens, measures())]


@pytest.mark.parametrize("phrase", ROWS)
def test_list(phrase: str) -> None:
    # source: contract.md, rule 7, rules 9, 16, 24, 25; where it is silent, common practice
    wanted = [] if ROWS[phrase] == "none" else ROWS[phrase].split(" ; ")
    found = amounts(phrase)
    assert len(found) == len(wanted), found
    for span, text in zip(found, wanted, strict=True):
        figures, *rest = text.split()
        low, best, high = (map(float, figures.split("/"))) if "/" in figures else [float(figures)] * 3
        assert (span.low, span.best, span.high) == pytest.approx((low, best, high), rel=1e-3)
        marks = [span.currency or span.unit or "", "each" if span.each else span.open]
        assert [m for m in marks if m] == rest


@pytest.mark.parametrize(
    ("text", "spans"),
    [
        ("fed them about two or three big handfuls of card", ["about two or three big handfuls"]),
        ("a quart, quart and a half of water", ["a quart , quart and a half"]),
        ("no more than two cups today", ["no more than two cups"]),
        ("somewhere between two and three gallons came out", ["somewhere between two and three gallons"]),
        ("two-ish cups of oats", ["two - ish cups"]),
        ("a cup each of oats and bran", ["a cup each"]),
        ("six cups six and then a pint", ["six cups six", "a pint"]),
        ("the top one got three cups, bottom one half a tray of leaves", ["three cups", "half a tray"]),
    ],
)
def test_the_span_takes_in_what_belongs_to_the_amount(text: str, spans: list[str]) -> None:
    assert said(text) == spans


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("2 lb 3 oz", ["2 pound", "3 ounce"]),
        ("9 pounds 2 ounces", ["9 pound", "2 ounce"]),
        ("1 gallon 2 quarts", ["1 gallon", "2 quart"]),
        ("two cups plus a tablespoon", ["2 cup", "1 tablespoon"]),
        ("3 feet and 4 inches", ["3 foot", "4 inch"]),
    ],
)
def test_sums_of_units_agree_with_pint(text: str, parts: list[str]) -> None:
    # source: pint 0.25's unit registry
    registry: Any = pint.UnitRegistry()
    first, second = map(registry.Quantity, parts)
    assert one(text).best == pytest.approx((first + second).magnitude)


def test_open_bounds_are_told_apart() -> None:
    assert [one(t).open for t in ("at least two cups", "under a pound", "two cups")] == ["high", "low", ""]
    both = one("more than 20 but less than 30 worms")
    assert (both.low, both.best, both.high, both.open) == (20, 25, 30, "")


def test_metric_and_uk_forms() -> None:
    given_ = ["half a kilo", "300 grammes", "two litres", "1 kg", "a pint", "10 cm", "three tonnes"]
    assert [one(t).unit for t in given_] == ["kg", "g", "litre", "kg", "pint", "cm", "tonne"]


def test_inch_and_the_word_in() -> None:
    assert (one("2in coir").unit, one("4 in. of straw").unit) == ("inch", "inch")
    assert [one(t).unit for t in ("3 in the top tray", "82 in bin")] == [None, None]


def test_c_is_cups_or_celsius() -> None:
    given_ = ["2c coffee", "1 c of oats", "21 c", "temp 6 c", "minus two c"]
    assert [one(t).unit for t in given_] == ["cup", "cup", "degC", "degC", "degC"]


def test_decimal_comma_is_a_doubt() -> None:
    assert one("1,5 litres").unsure and not one("1,500 g").unsure  # inputs.md, row 12


@pytest.mark.parametrize(
    "text",
    [  # inputs.md, rows 13, 14, 16
        "1e309 cups",
        "999999999999999999999 kg",
        "minus three cups of food",
        "nan degrees",
        "inf pounds",
    ],
)
def test_nothing_that_is_not_finite_or_is_negative(text: str) -> None:
    assert amounts(text) == []


def test_other_inputs_to_survive() -> None:
    assert one("0 handfuls").best == 0  # row 15
    assert all(math.isfinite(a.best) for a in amounts("half a third of two dozen cups"))  # row 17
    assert amounts("a" * 100_000) == []  # row 29
    assert len(amounts("10 " * 3000)) <= 3000
    assert amounts(", " * 10_000 + "(" * 300) == []  # row 28


def test_a_measure_class_of_ones_own() -> None:
    own = Measures([{"name": "hod", "forms": "hods", "dimension": "own", "base": ""}])
    assert find_amounts("two hods of coal".split(), own)[0].unit == "hod"


@pytest.mark.parametrize("phrase", ["minus 1 to", "point 1", "one", "1 lb 1 oz", "half a", "bins 1 and"])
def test_long_chains_do_not_nest_without_end(phrase: str) -> None:
    assert len(find_amounts(phrase.split() * 1500, measures())) <= 6000  # inputs.md, row 28
    assert find_amounts(["point", "9" * 5000], measures()) == []


VOCABULARY = sorted(
    {w for phrase in ROWS for w in phrase.lower().split()} | set("- , . / one half the of 3rd".split())
)


@settings(max_examples=400, deadline=None)
@given(st.lists(st.sampled_from(VOCABULARY), max_size=14))
def test_any_words_give_ordered_finite_spans(tokens: list[str]) -> None:
    end = 0
    for span in find_amounts(tokens, measures()):
        assert end <= span.start < span.end <= len(tokens)
        assert -1e12 < span.low <= span.best <= span.high < 1e12
        end = span.end
