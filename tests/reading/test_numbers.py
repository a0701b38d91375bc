"""Numbers in words and figures, against text2num, word2number, fractions and the Unicode database."""

from __future__ import annotations

import unicodedata
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from text_to_num import alpha2digit, text2num
from word2number import w2n

from assistant.reading.numbers import cardinal, ordinal, read_fraction, read_number, read_ordinal
from assistant.reading.tokens import VULGAR, split

SMALL = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen "
    "seventeen eighteen nineteen"
).split()
TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split()


def spelt(n: int, joint: str, hyphen: str) -> str:
    """English words for 0 to 9999, British (" and ") or American (" ")."""
    if n < 20:
        return SMALL[n]
    if n < 100:
        return TENS[n // 10 - 2] + (hyphen + SMALL[n % 10] if n % 10 else "")
    size, word = (1000, "thousand") if n >= 1000 else (100, "hundred")
    rest = n % size
    tail = (joint if rest < 100 else " ") + spelt(rest, joint, hyphen) if rest else ""
    return f"{spelt(n // size, joint, hyphen)} {word}{tail}"


def whole(text: str) -> Fraction | None:
    """The number that the text is, read to its end."""
    atoms = split(text.replace("-", " - ").split())[0]
    found = read_number(atoms, 0)
    return found.value if found and found.end == len(atoms) else None


@pytest.mark.parametrize("joint", [" ", " and "])
@pytest.mark.parametrize("hyphen", [" ", "-"])
def test_words_of_whole_numbers_agree_with_two_libraries(joint: str, hyphen: str) -> None:
    # source: text2num 3.1 and word2number 1.1 read the same words; every number to 1,000, then each seventh
    for n in [*range(1000), *range(1000, 10_000, 7)]:
        words = spelt(n, joint, hyphen)
        assert whole(words) == text2num(words, "en") == w2n.word_to_num(words), words


# where the two libraries part from us: (words, ours, text2num, word2number); None is an error
DISAGREEMENTS = [
    ("a hundred", 100, None, 100),
    ("a thousand", 1000, None, 1000),
    ("one twenty two", 122, None, 22),
    ("one oh five", 105, None, 6),
    ("twenty one hundred", 2100, 2100, 120),
    ("seventy-five hundred", 7500, 7500, 450),
    ("fourty", 40, 40, None),
    ("nought", 0, 0, None),
    ("nil", 0, None, None),
    ("two dozen", 24, None, 2),
    ("half a dozen", 6, None, None),
    ("two and a half", Fraction(5, 2), None, 2),
    ("three quarters", Fraction(3, 4), None, 3),
    ("one half", Fraction(1, 2), None, 1),
    ("six point eight", Fraction("6.8"), None, 6.8),
    ("two point oh five", Fraction("2.05"), None, 2.5),
    ("hundred", None, 100, 100),
]


@pytest.mark.parametrize(("words", "ours", "second", "third"), DISAGREEMENTS)
def test_disagreements_are_as_named(
    words: str, ours: Fraction | int | None, second: int | None, third: float | None
) -> None:
    def tried(read: object) -> float | None:
        try:
            return read(words)  # type: ignore[operator, no-any-return]
        except ValueError:
            return None

    assert whole(words) == ours
    assert tried(lambda w: text2num(w, "en")) == second
    assert tried(w2n.word_to_num) == third


def test_ordinals_agree_with_text2num() -> None:
    # source: text2num's alpha2digit writes "twenty-first" as "21st"
    for n in range(1, 100):
        place = _ordinal(n)
        digits = alpha2digit(place, "en")
        atoms = split(place.replace("-", " - ").split())[0]
        assert read_ordinal(atoms, 0) == (n, len(atoms))
        assert ordinal(digits) == n
        assert read_number(atoms, 0) is None, "an ordinal is no count"


def _ordinal(n: int) -> str:
    irregular = {1: "first", 2: "second", 3: "third", 5: "fifth", 8: "eighth", 9: "ninth", 12: "twelfth"}
    if n in irregular:
        return irregular[n]
    if n < 20:
        return SMALL[n] + "th"
    tens, units = divmod(n, 10)
    return f"{TENS[tens - 2]}-{_ordinal(units)}" if units else TENS[tens - 2][:-1] + "ieth"


def test_vulgar_fractions_have_their_unicode_value() -> None:
    # source: the Unicode Character Database, as Python's unicodedata has it
    for sign in VULGAR:
        assert float(read_number([sign], 0).value) == pytest.approx(unicodedata.numeric(sign))  # type: ignore[union-attr]
        assert float(whole(f"2{sign}") or 0) == pytest.approx(2 + unicodedata.numeric(sign))


@given(st.integers(0, 10**9))
def test_thousands_in_figures(n: int) -> None:
    # source: Python's own format with commas
    assert whole(f"{n:,}") == whole(str(n)) == n


@given(st.integers(0, 99), st.integers(1, 99), st.integers(1, 99))
def test_fractions_in_figures(n: int, top: int, bottom: int) -> None:
    # source: fractions.Fraction
    assert read_fraction(split([f"{top}/{bottom}"])[0], 0) == (Fraction(top, bottom), 3)
    if top < bottom:
        assert whole(f"{n} {top}/{bottom}") == n + Fraction(top, bottom)


@pytest.mark.parametrize(
    ("words", "value"),
    [  # common practice, no source; the first five are inputs.md rows 10 to 12
        ("½", "1/2"),
        ("1½", "3/2"),
        ("1 1/2", "3/2"),
        ("⅓", "1/3"),
        ("1,500", "1500"),
        ("1-1/2", "3/2"),
        ("two and three quarters", "11/4"),
        ("one hundred and three quarters", "403/4"),
        ("three twenty-firsts", "1/7"),
        ("twenty fifths", "4"),
        ("two and a half dozen", "30"),
        ("4 hundred", "400"),
        ("1.5 million", "1500000"),
        ("ninety nine thousand nine hundred and ninety nine", "99999"),
        (".75", "3/4"),
        ("point seventy seven", "77/100"),
        ("one out of three", "1/3"),
        ("３", "3"),
    ],
)
def test_mixed_writing(words: str, value: str) -> None:
    assert whole(words) == Fraction(value)


def test_decimal_comma_leaves_a_doubt() -> None:
    found = read_number(["1,5"], 0)
    assert found and found.value == Fraction(3, 2) and found.doubt


@pytest.mark.parametrize(
    "words", ["1e309", "nan", "inf", "infinity", "9" * 30, "t1", "1/0", "twenty first", ""]
)
def test_no_number(words: str) -> None:
    atoms = split(words.split())[0]
    found = read_number(atoms, 0) if atoms else None
    assert found is None or found.end < len(atoms)


def test_single_words() -> None:
    assert [cardinal(w) for w in ("seven", "40", "dozen", "seventh")] == [7, 40, None, None]
    assert [ordinal(w) for w in ("third", "21st", "three", "2")] == [3, 21, None, None]
