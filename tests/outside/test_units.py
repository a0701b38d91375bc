"""Measures of the lexicon against pint (tests only) and the exact figures of NIST.

NIST SP 811 appendix B and Handbook 44 appendix C: pound 453.59237 g, US gallon 231 in3, bushel 2150.42 in3,
inch 2.54 cm.
The imperial gallon of 4.54609 litres is exact by law (GAL).
"""

from __future__ import annotations

from typing import Any

import pint
import pytest

import lexicon
from assistant import formulas
from assistant.balance import Trade
from assistant.records import Amount

REGISTRY = pint.UnitRegistry()
BASE = {"mass": "g", "volume": "ml", "imperial volume": "ml", "length": "cm", "time": "min"}
PINT = {
    "volume": {
        "fl_oz": "fluid_ounce",
        "tbsp": "tablespoon",
        "tsp": "teaspoon",
        "gallon": "gallon",
        "quart": "quart",
        "pint": "pint",
        "cup": "cup",
        "gill": "gill",
        "bushel": "bushel",
        "peck": "peck",
        "yard": "yard ** 3",
        "cubic foot": "foot ** 3",
        "litre": "litre",
        "ml": "ml",
    },
    "imperial volume": {
        "gallon": "imperial_gallon",
        "quart": "imperial_quart",
        "pint": "imperial_pint",
        "fl_oz": "imperial_fluid_ounce",
    },
    "mass": {
        "lb": "pound",
        "oz": "ounce",
        "g": "g",
        "kg": "kg",
        "ton": "short_ton",
        "tonne": "metric_ton",
        "stone": "stone",
    },
    "length": {"inch": "inch", "cm": "cm", "foot": "foot", "metre": "metre", "mm": "mm"},
    "time": {"min": "minute", "hour": "hour"},
}
CASES = [(dimension, ours, theirs) for dimension, names in PINT.items() for ours, theirs in names.items()]


def base_of(name: str, dimension: str) -> float:
    """The size of a measure in its base unit, from the lexicon."""
    rows = [
        row
        for row in lexicon.load().table("measures")
        if (row["name"], row["dimension"]) == (name, dimension)
    ]
    assert len(rows) == 1, f"{name} ({dimension}) is not one row of measures.csv"
    return float(rows[0]["base"])


@pytest.mark.parametrize(("dimension", "ours", "theirs"), CASES, ids=[f"{c[1]} {c[0]}" for c in CASES])
def test_measure_is_that_of_pint(dimension: str, ours: str, theirs: str) -> None:
    quantity: Any = REGISTRY.parse_expression(theirs)
    assert base_of(ours, dimension) == pytest.approx(quantity.to(BASE[dimension]).magnitude, rel=1e-9)


@pytest.mark.parametrize(
    ("check", "value", "name", "dimension", "litres"),
    [
        ("T18 5 US gal (GAL)", 5, "gallon", "volume", 18.92705892),
        ("T19 1 imperial gal (GAL)", 1, "gallon", "imperial volume", 4.54609),
        ("T20 1 bushel (HB44)", 1, "bushel", "volume", 35.23907016688),
        ("T21 1 dry quart, a 32nd of a bushel (derived)", 1 / 32, "bushel", "volume", 1.101220942715),
        ("a cup is 8 fl oz (HB44)", 1 / 8, "cup", "volume", 0.0295735295625),
    ],
)
def test_litres(check: str, value: float, name: str, dimension: str, litres: float) -> None:
    litre = base_of("litre", "volume")
    assert formulas.convert(value, base_of(name, dimension), litre) == pytest.approx(litres, rel=1e-12)


@pytest.mark.parametrize(("fahrenheit", "celsius"), [(32, 0), (212, 100), (98.6, 37), (-40, -40)])
def test_degrees(fahrenheit: float, celsius: float) -> None:
    """The definition of the Fahrenheit scale (NIST SP 811, B.7.3)."""
    assert formulas.celsius(fahrenheit) == pytest.approx(celsius)
    pints: Any = REGISTRY.Quantity(fahrenheit, "degF")
    assert formulas.celsius(fahrenheit) == pytest.approx(pints.to("degC").magnitude)


def test_three_point_eight_pounds_a_gallon() -> None:
    """T22, EPA16: 3.8 lb/gal is 455 kg/m3; the weight of a gallon by the lexicon's own density, both ways."""
    trade = Trade.of(lexicon.load())
    kilos = trade.converter.kilograms(Amount.exactly(1, "gallon"), "food", "food")
    density = lexicon.load().things["food"]["food"].figures["density"]
    assert kilos is not None
    assert formulas.convert(kilos.best, 1000, base_of("lb", "mass")) == pytest.approx(
        density.best / 119.826, rel=1e-5
    )
    assert formulas.convert(3.8, 119.826, 1) == pytest.approx(455, abs=0.5)


def test_an_imperial_pint_where_the_settings_say_so() -> None:
    us, imperial = (Trade.of(lexicon.load(), system).converter for system in ("", "imperial"))
    pints = Amount.exactly(1, "pint")
    small, large = (one.kilograms(pints, "coffee grounds", "food") for one in (us, imperial))
    assert small and large and large.best / small.best == pytest.approx(568.26125 / 473.176473)


def test_a_keepers_own_scoop() -> None:
    converter = Trade.of(lexicon.load(), own={"scoop": 250.0}).converter
    scoop, litre = (
        converter.kilograms(Amount.exactly(*one), "coffee grounds", "food")
        for one in ((4, "scoop"), (1, "litre"))
    )
    assert scoop and litre and scoop == pytest.approx(litre)
