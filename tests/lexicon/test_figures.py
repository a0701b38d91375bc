"""Figures of the lexicon against published tables.

SR28: USDA ARS, National Nutrient Database for Standard Reference, Release 28, by NDB number: water (g in
100 g), refuse (% of what is bought) and the weight of the edible part of one. Worked out from them (SR28-D):
what is thrown away = edible x refuse / (100 - refuse), the whole = edible / (1 - refuse / 100), nitrogen of
dry mass = protein / factor / dry mass, density = weight of a cup / 236.588 ml.
NIST: Special Publication 811, appendix B.8, and Handbook 44, appendix C.
"""

from __future__ import annotations

from typing import Any

import pint
import pytest

from lexicon import load

SR28 = [  # name, NDB number, water, refuse, grams of the edible part of one
    ("apple", "09003", 85.56, 10, 182),
    ("banana", "09040", 74.91, 36, 118),
    ("orange", "09200", 86.75, 27, 131),
    ("avocado", "09037", 73.23, 26, 201),
    ("pineapple", "09266", 86.00, 49, 905),
    ("mango", "09176", 83.46, 29, 336),
    ("pear", "09252", 83.96, 10, 178),
    ("peach", "09236", 88.87, 4, 150),
    ("plum", "09279", 87.23, 6, 66),
    ("kiwi", "09148", 83.07, 24, 69),
    ("cantaloupe", "09181", 90.15, 49, 552),
    ("romaine", "11251", 94.61, 6, 626),
    ("cabbage", "11109", 92.18, 20, 908),
    ("celery", "11143", 95.43, 11, 40),
    ("leek", "11246", 83.00, 56, 89),
    ("onion", "11282", 89.11, 10, 110),
    ("carrot", "11124", 88.29, 11, 61),
    ("potato", "11352", 79.25, 25, 213),
    ("zucchini", "11477", 94.79, 5, 196),
    ("cucumber", "11205", 95.23, 3, 301),
    ("tomato", "11529", 94.52, 9, 123),
    ("eggs", "01123", 76.15, 12, 50),
]
WASTE = [  # the part, NDB number of the whole, edible grams, refuse
    ("banana peel", "09040", 118, 36),
    ("orange peel", "09200", 131, 27),
    ("grapefruit peel", "09112", 2 * 123, 49),
    ("lemon peel", "09150", 58, 47),
    ("apple core", "09003", 182, 10),
    ("kiwi skin", "09148", 69, 24),
    ("peach pit", "09236", 150, 4),
    ("leek tops", "11246", 89, 56),
    ("carrot peel", "11124", 61, 11),
]
CUPS = [  # name, NDB number, grams of a cup
    ("carrot", "11124", 128),
    ("leek", "11246", 89),
    ("rice", "20045", 158),
    ("pasta", "20121", 120),
    ("strawberry", "09316", 144),
    ("grape", "09132", 151),
    ("cabbage", "11109", 89),
    ("romaine", "11251", 47),
    ("pumpkin", "11422", 116),
]
PIECES = [
    ("bread", "18069", 29),
    ("whole wheat bread", "18075", 32),
    ("potato peel", "11362", 38),
    ("broccoli stems", "11741", 114),
]
PRINTED = [  # topic, name, column, value, source: other tables, as the fact sheet copies them
    ("food", "horse manure", "moisture", 72, "MST"),
    ("food", "cow manure", "c_to_n", 19, "MST"),
    ("food", "chicken manure", "nitrogen", 8, "MST"),
    ("food", "grass clippings", "c_to_n", 17, "MST"),
    ("food", "coffee grounds", "c_to_n", 20, "MST"),
    ("food", "food scraps", "nitrogen", 2.4, "MST"),
    ("food", "rabbit manure", "c_to_n", 12, "SOL"),
    ("food", "alfalfa pellets", "nitrogen", 2.7, "ROD"),
    ("food", "citrus peel", "moisture", 77.3, "DUR22"),
    ("bedding", "shredded cardboard", "c_to_n", 563, "MUNROE-T"),
    ("bedding", "sawdust", "c_to_n", 440, "MST"),
    ("bedding", "leaves", "moisture", 38, "MST"),
    ("bedding", "leaf mold", "c_to_n", 60, "MST"),
    ("bedding", "peat moss", "c_to_n", 58, "MUNROE-T"),
    ("bedding", "straw", "c_to_n", 80, "MST"),
    ("organism", "red wigglers", "piece", 0.55, "SPEC2"),
]
POUNDS_A_GALLON = [  # topic, name, lb in a US gallon: MST
    ("food", "coffee grounds", 7),
    ("food", "horse manure", 6.8),
    ("food", "cow manure", 7.2),
    ("food", "food scraps", 3.5),
    ("bedding", "shredded cardboard", 0.5),
    ("bedding", "leaf mold", 3),
]


def best(topic: str, name: str, column: str) -> float:
    return load().things[topic][name].figures[column].best


@pytest.mark.parametrize(("name", "ndb", "water", "refuse", "edible"), SR28)
def test_usda_water_refuse_and_whole_weight(
    name: str, ndb: str, water: float, refuse: float, edible: float
) -> None:
    assert best("food", name, "moisture") == pytest.approx(water, abs=0.051)
    assert best("food", name, "refuse") == refuse
    assert best("food", name, "piece") * (1 - refuse / 100) == pytest.approx(edible, abs=0.5)


@pytest.mark.parametrize(("part", "ndb", "edible", "refuse"), WASTE)
def test_usda_weight_of_what_is_thrown_away(part: str, ndb: str, edible: float, refuse: float) -> None:
    assert best("food", part, "piece") == pytest.approx(edible * refuse / (100 - refuse), abs=0.51)


@pytest.mark.parametrize(("name", "ndb", "grams"), CUPS)
def test_usda_cup_weights(name: str, ndb: str, grams: float) -> None:
    assert best("food", name, "density") * 0.2365882365 == pytest.approx(grams, abs=0.13)


@pytest.mark.parametrize(("name", "ndb", "grams"), PIECES)
def test_usda_piece_weights(name: str, ndb: str, grams: float) -> None:
    assert best("food", name, "piece") == grams


@pytest.mark.parametrize(("topic", "name", "column", "value", "source"), PRINTED)
def test_printed_figures_carry_their_source(
    topic: str, name: str, column: str, value: float, source: str
) -> None:
    figure = load().things[topic][name].figures[column]
    assert (figure.best, figure.source) == (value, source)


@pytest.mark.parametrize(("topic", "name", "pounds"), POUNDS_A_GALLON)
def test_densities_given_in_pounds_a_gallon(topic: str, name: str, pounds: float) -> None:
    assert best(topic, name, "density") == pytest.approx(pounds * 453.59237 / 3.785411784, rel=0.005)


PINT = {  # our spelling -> that of the reference library pint, whose units are those of NIST
    "lb": "pound", "oz": "ounce", "stone": "stone", "ton": "short_ton", "hundredweight": "US_hundredweight",
    "tonne": "metric_ton", "g": "gram", "kg": "kilogram", "mg": "milligram",
    "gallon": "gallon", "quart": "quart", "pint": "pint", "cup": "cup", "gill": "gill",
    "fl_oz": "fluid_ounce", "tbsp": "tablespoon", "tsp": "teaspoon",
    "litre": "liter", "ml": "milliliter", "cl": "centiliter", "dl": "deciliter",
    "yard": "yard ** 3", "cubic foot": "foot ** 3", "cubic metre": "meter ** 3",
    "bushel": "bushel", "peck": "peck",
    "inch": "inch", "cm": "centimeter", "mm": "millimeter", "foot": "foot", "metre": "meter",
    "min": "minute", "hour": "hour", "second": "second",
}  # fmt: skip
BASE = {"mass": "gram", "volume": "milliliter", "length": "centimeter", "time": "minute"}
IMPERIAL = {
    "gallon": 4546.09,
    "pint": 568.26125,
    "quart": 1136.5225,
    "fl_oz": 28.4130625,
}  # GAL: 4.54609 litre exactly


def test_exact_measures_agree_with_a_reference_library() -> None:
    units: Any = pint.UnitRegistry()
    rows = [row for row in load().table("measures") if row["dimension"] in BASE and row["base"]]
    assert {row["name"] for row in rows} == set(PINT)
    for row in rows:
        expected = units.Quantity(1, PINT[row["name"]]).to(BASE[row["dimension"]]).magnitude
        assert float(row["base"]) == pytest.approx(expected, rel=1e-9), row["name"]


def test_imperial_measures() -> None:
    rows = {
        r["name"]: float(r["base"]) for r in load().table("measures") if r["dimension"] == "imperial volume"
    }
    assert {name: rows[name] for name in IMPERIAL} == pytest.approx(IMPERIAL, rel=1e-12)


@pytest.mark.parametrize(
    ("name", "exact"),
    [
        ("lb", 453.59237),
        ("oz", 28.349523125),
        ("gallon", 231 * 2.54**3),
        ("bushel", 2150.42 * 2.54**3),
    ],  # SP 811, HB44
)
def test_exact_measures_by_their_definitions(name: str, exact: float) -> None:
    row = next(row for row in load().table("measures") if row["name"] == name)
    assert float(row["base"]) == pytest.approx(exact, rel=1e-12)


WORMS = [  # rules of worm beds, as printed: name, applies to, low, best, high, source
    ("bin_temperature", "Eisenia fetida", 4, None, 30, "EE349"),
    ("bin_moisture", "Eisenia fetida", 60, None, 90, "EE349"),
    ("bin_temperature", "Eudrilus eugeniae", 9, None, 30, "SPEC3"),
    ("hatchlings_per_cocoon", "Eudrilus eugeniae", None, 2.7, None, "VIL89"),
    ("incubation", "Perionyx excavatus", None, 18.7, None, "HAL90"),
]


@pytest.mark.parametrize(("name", "species", "low", "figure", "high", "source"), WORMS)
def test_figures_of_species(
    name: str, species: str, low: float | None, figure: float | None, high: float | None, source: str
) -> None:
    row = next(r for r in load().table("species") if (r["name"], r["applies_to"]) == (name, species))
    given = [float(row[c]) if row[c] else None for c in ("low", "best", "high")]
    assert given == [low, figure, high] and source in row["source"].split(";")
