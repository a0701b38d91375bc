"""The loader takes the shipped data and refuses what cannot be right, naming file and row."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from assistant.records import KINDS
from lexicon import SCHEMA, TOPICS, Figure, LexiconError, load, read

Append = Callable[[str, str], int]


def test_shipped_data_are_taken_and_the_cache_gives_the_same(folder: Path) -> None:
    assert load() == read(folder)


def test_one_line_makes_a_food_known(folder: Path, append: Append) -> None:
    append("foods.csv", "zorb peel,zorb skin,fruit,88 (86-90) MEMORY,,,,12 MEMORY,,")
    food = read(folder).things["food"]["zorb peel"]
    assert set(food.forms) == {"zorb peel", "zorb peels", "zorb skin", "zorb skins"}
    assert (food.klass, food.topic) == ("fruit", "food")
    assert food.figures == {"moisture": Figure(86, 88, 90, "MEMORY"), "piece": Figure(12, 12, 12, "MEMORY")}


def test_a_form_marked_exact_has_no_other_number(folder: Path, append: Append) -> None:
    append("amendments.csv", "zorb dust,=zorb,rock,,,,,,,")
    assert read(folder).things["amendment"]["zorb dust"].forms == ("zorb dust", "zorb", "zorb dusts")


def test_a_form_may_stand_in_two_topics(folder: Path, append: Append) -> None:
    append("foods.csv", "zorb,,fruit,,,,,,,")
    append("beddings.csv", "zorb,,straw,,,,,,,")
    things = read(folder).things
    assert things["food"]["zorb"].topic == "food" and things["bedding"]["zorb"].topic == "bedding"


def test_another_number_never_takes_a_form_that_a_row_gives(folder: Path, append: Append) -> None:
    append("foods.csv", "zorb,,fruit,,,,,,,")
    append("foods.csv", "dried zorbs,zorbs,fruit,,,,,,,")
    food = read(folder).things["food"]
    assert "zorbs" not in food["zorb"].forms and "zorbs" in food["dried zorbs"].forms


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("zorb,banana skin,fruit,,,,,,,", "'banana skin' is already in row"),
        ("banana peel,,fruit,,,,,,,", "'banana peel' is already in row"),
        ("zorb,zib;zib,fruit,,,,,,,", "'zib' is already in row"),
        ("zorb,,fruit,88,,,,,,", "has no source"),
        ("zorb,,fruit,88 NOBODY,,,,,,", "'NOBODY' is not in sources.csv"),
        ("zorb,,fruit,130 MEMORY,,,,,,", "moisture '130 MEMORY' is not between 0 and 100"),
        ("zorb,,fruit,80 (85-90) MEMORY,,,,,,", "in order"),
        ("zorb,,fruit,wet MEMORY,,,,,,", "is not 'best (low-high) SOURCE'"),
        ("zorb,,fruit,,,,,0 MEMORY,,", "piece '0 MEMORY' is not between"),
        ("Zorb,,fruit,,,,,,,", "not lower case"),
        ("zorb,,,,,,,,,", "has no class"),
        ("zorb,,fruit,,", "5 cells where the header has 10"),
        (",zib,fruit,,,,,,,", "is empty"),
    ],
)
def test_a_bad_food_is_refused_with_file_and_row(folder: Path, append: Append, line: str, why: str) -> None:
    row = append("foods.csv", line)
    with pytest.raises(LexiconError) as fault:
        read(folder)
    assert f"foods.csv, row {row}: " in str(fault.value)
    assert why in str(fault.value)
    assert "\n" not in str(fault.value)


@pytest.mark.parametrize(
    ("file", "line", "why"),
    [
        ("measures.csv", "zorb,handful,own,,10,20,MEMORY,", "form 'handful' is already in row"),
        ("measures.csv", "zorb,,volume,12,,,,", "has no source"),
        ("measures.csv", "zorb,,volume,minus,,,MEMORY,", "are numbers or empty"),
        ("measures.csv", "zorb,,volume,-3,,,MEMORY,", "are above nothing"),
        ("rules.csv", "zorb,5,4,9,pH,,MEMORY,", "not in order"),
        ("rules.csv", "zorb,5,6,9,pH,,,", "has no source"),
        ("rules.csv", "q10,,2,,ratio,,MEMORY,", "'q10' is already in row"),
        ("species.csv", "zorb,x,,,day,,MEMORY,", "are numbers or empty"),
        ("sources.csv", "MEMORY,again,,MEMORY", "'MEMORY' is already in row"),
    ],
)
def test_a_bad_row_of_a_table_is_refused(
    folder: Path, append: Append, file: str, line: str, why: str
) -> None:
    row = append(file, line)
    with pytest.raises(LexiconError) as fault:
        read(folder)
    assert f"{file}, row {row}: " in str(fault.value) and why in str(fault.value)


@pytest.mark.parametrize("name", ["covers.csv", "measures.csv"])
def test_an_unknown_column_is_refused(folder: Path, name: str) -> None:
    file = folder / name
    head, _, rest = file.read_text(encoding="utf-8").partition("\n")
    file.write_text(f"{head},colour\n{rest}", encoding="utf-8")
    with pytest.raises(LexiconError, match=rf"^{name}, row 1: unknown column 'colour'$"):
        read(folder)


def test_a_missing_column_is_refused(folder: Path) -> None:
    (folder / "species.csv").write_text("name,low\nx,1\n", encoding="utf-8")
    with pytest.raises(LexiconError, match=r"^species.csv, row 1: column 'best' is missing$"):
        read(folder)


def test_a_missing_file_is_named(folder: Path) -> None:
    (folder / "products.csv").unlink()
    with pytest.raises(LexiconError, match=r"^products.csv is missing$"):
        read(folder)


def test_a_broken_file_is_named(folder: Path) -> None:
    (folder / "rules.csv").write_bytes(b"name,low\n\xff\xfe\n")
    with pytest.raises(LexiconError, match=r"^rules.csv"):
        read(folder)


def test_a_new_word_table_needs_a_form(folder: Path) -> None:
    (folder / "words" / "zorbs.csv").write_text("form,note\nzib;zab,hello \n", encoding="utf-8")
    assert read(folder).table("zorbs") == ({"form": "zib;zab", "note": "hello"},)
    (folder / "words" / "zorbs.csv").write_text("word,note\nzib,\n", encoding="utf-8")
    with pytest.raises(LexiconError, match=r"^words/zorbs.csv, row 1: column 'form' is missing$"):
        read(folder)


def test_two_rows_of_a_word_table_may_not_hold_one_form(folder: Path) -> None:
    (folder / "words" / "zorbs.csv").write_text("form,note\nzib;zab,\nzub;zab,\n", encoding="utf-8")
    with pytest.raises(LexiconError, match=r"^words/zorbs.csv, row 3: 'zab' is already in row 2$"):
        read(folder)
    (folder / "words" / "zorbs.csv").write_text("form,kind\nzib;zab,feed\nzub;zab,bed\n", encoding="utf-8")
    assert len(read(folder).table("zorbs")) == 2


def test_a_table_that_is_not_there_is_named() -> None:
    with pytest.raises(LexiconError, match=r"no table zorbs\.csv"):
        load().table("zorbs")


@pytest.mark.parametrize(
    ("entry", "why"),
    [
        ('id = "zorb"\nsource = "MEMORY"', "needs an id and a text"),
        ('id = "zorb"\ntext = "x"\nsource = "NOBODY"', "'NOBODY' is not in sources.csv"),
        ('id = "zorb"\ntext = "x"', "is not in sources.csv"),
        ("id = ", "cautions.toml"),
    ],
)
def test_a_bad_caution_is_refused(folder: Path, append: Append, entry: str, why: str) -> None:
    append("cautions.toml", f"[[caution]]\n{entry}")
    with pytest.raises(LexiconError) as fault:
        read(folder)
    assert str(fault.value).startswith("cautions.toml") and why in str(fault.value)


def test_data_point_at_things_that_are_there() -> None:
    """Cautions, classes and notes name what the lexicon has."""
    lexicon = load()
    names = {name for things in lexicon.things.values() for name in things}
    for caution in lexicon.cautions:
        assert set(caution.items) <= names, caution.id
        assert set(caution.kinds) <= KINDS, caution.id
        assert caution.items or caution.kinds or caution.words, caution.id
    for row in lexicon.table("classes"):
        things = lexicon.things[row["topic"]]
        assert row["like"] in things, row
        assert any(thing.klass == row["form"] for thing in things.values()), row
    for things in lexicon.things.values():
        for thing in things.values():
            _, marked, said = thing.note.partition("ambiguous: ")
            assert not marked or set(said.split(", ")) <= set(thing.forms), thing.name


def test_no_mishearing_repairs_what_another_one_means() -> None:
    """A repaired word is left alone afterwards: what is meant is never itself heard wrongly."""
    rows = load().table("mishearings")
    heard = {row["heard"].lower() for row in rows if not row["near"]}
    assert not [row for row in rows if row["meant"].lower() in heard]


CONTRACT = {  # contract.md, section 3: items that the record contract spells out
    "organism": "worms;juvenile worms;cocoons;escaping worms;dead worms;fungus gnats;mites;mold",
    "product": "castings;leachate",
    "food": "melon rind",
    "bedding": "shredded cardboard",
}
UNITS = (  # contract.md, section 2: how units are spelt
    "handful cup pint quart gallon litre ml tbsp tsp spoon fl_oz scoop bucket caddy barrow bag tub tray "
    "sheet slice piece spray lb oz g kg ton tonne yard inch cm percent degF degC pH min"
)


@pytest.mark.parametrize("topic", CONTRACT)
def test_the_names_of_the_contract_are_names_here(topic: str) -> None:
    assert set(CONTRACT[topic].split(";")) <= set(load().things[topic])


def test_the_units_of_the_contract_are_measures_here() -> None:
    assert set(UNITS.split()) <= {row["name"] for row in load().table("measures")}


def test_every_topic_and_table_is_there() -> None:
    lexicon = load()
    assert set(lexicon.things) == set(TOPICS)
    assert set(SCHEMA) <= set(lexicon.tables)
