"""Numbers that count nothing: labels ("tray two"), "one" as a pronoun, dates written in digits or words.

no_amount(atoms, i, measures)   how many atoms from `i` on are no amount
"""

from __future__ import annotations

from collections.abc import Sequence

from assistant.reading.amountwords import ADJECTIVES, DETERMINERS, NEEDS_OF, ONES, skip_adjectives
from assistant.reading.measures import Measures
from assistant.reading.numbers import SMALL, Number, read_number
from assistant.reading.tokens import MONTHS, at
from assistant.reading.units import read_unit

_LABELS = frozenset(
    "tray trays tier tiers level levels layer layers bin bins box boxes drawer drawers bed beds breeder "
    "breeders tote "
    "totes tower towers rack racks shelf reactor windrow hive room row plot batch station number # day "
    "week month "
    "year step page part type version stage phase chapter episode t".split()
)
_PLACED = DETERMINERS | frozenset(
    "which next last first second third fourth fifth top middle bottom upper lower left right back front "
    "other "
    "same wet dry wetter drier".split()
)
_ONE_BEFORE = _PLACED | ADJECTIVES | frozenset("no any some new old good bad another".split())
_ONE_AFTER = frozenset(
    "of is was 's are were has had looks looked seems seemed feels got gets goes went down up below above "
    "over "
    "under on in at i we you he she they it that which who with by from for and but so then too also "
    "thing time "
    "day side end last another more not if when because . , ; : ! ?".split()
)
_ON_DAY = frozenset(("on", "by", "since", "until", "till", "from", "before", "after"))
_IN_YEAR = frozenset(("in", "since", "until", "till", "of", "by", "from", "early", "late"))
_AS_OFTEN = frozenset("as the a per daily weekly monthly more".split())
_COMMON = frozenset((2, 3, 4, 5, 6, 8, 10, 16))  # what people divide by
_VERBS_AFTER_MAY = frozenset(("be", "have", "not", "need", "do", "as", "go", "get", "die"))
_LISTING = frozenset((",", "and", "or", "to", "through", "-", "&", "/"))
_MOST_TIERS = 30  # a larger number after "bin" or "tray" is a reading
_MOST_BEDS = 12  # after "bed" and "t", which lead a temperature more often: "bed 19, room 17", "T 21"
_TO_A_ROOM = frozenset(("in", "to", "into", "from", "for", "of"))


def no_amount(atoms: Sequence[str], i: int, measures: Measures) -> int:
    """How many atoms from `i` on are a label, a pronoun, a date or a part of a place; 0 where none is."""
    word = atoms[i]
    if word == "one" and _is_pronoun(atoms, i, measures):
        return 1
    if word in ("half", "quarter", "point") and at(atoms, i - 1) in _PLACED:
        return 1
    few = SMALL.get(word, _MOST_BEDS) < _MOST_BEDS  # "all four"; "both seventy" is a reading
    if at(atoms, i - 1) in ("all", "both") and few and not measures.at(atoms, i + 1):
        return 1
    if word in SMALL and at(atoms, i + 1) == "'s":  # "two's ready"
        return 1
    if word.isdecimal() and (_is_list_mark(atoms, i) or (word[0] == "0" and len(word) > 1)):  # "0700"
        return 1
    if word in SMALL or word[0].isdecimal():
        return _date(atoms, i) or _ratio(atoms, i) or _label(atoms, i, measures)
    return 0


def _is_pronoun(atoms: Sequence[str], i: int, measures: Measures) -> bool:
    """Whether "one" stands for a thing ("the top one", "that one", "one of the")."""
    last, follows = at(atoms, i - 1), at(atoms, i + 1)
    if follows != "in" and measures.at(atoms, skip_adjectives(atoms, i + 1)):
        return False
    if last in _ONE_BEFORE:
        return True
    number = read_number(atoms, i)
    if last in ("on", "in") and SMALL.get(follows, 0) >= 20:  # "seventy six on one seventy nine on two"
        return True
    if (number and number.end > i + 1) or (follows == "," and at(atoms, i + 2) in SMALL):
        return False
    return follows in _ONE_AFTER or (follows == "" and last != "")


def _label(atoms: Sequence[str], i: int, measures: Measures) -> int:
    """How many atoms name things by number after a noun: "tray two", "bins 1, 2 and 3"."""
    noun = at(atoms, i - 1)
    if noun not in _LABELS or (
        noun != "number" and (at(atoms, i - 2) in _PLACED or at(atoms, i - 2) in ONES)
    ):
        return 0
    if noun == "room" and at(atoms, i - 2) not in _TO_A_ROOM:  # "room 14", not "took them to room 14"
        return 0
    most = _MOST_BEDS if noun in ("bed", "t") else _MOST_TIERS
    end = j = i
    while True:
        word = at(atoms, j)
        value = SMALL.get(word, most + 1) if not word.isdecimal() else int(word[:9])
        number = read_number(atoms, j)
        if value > most or not number or _is_measured(atoms, number, measures):
            return end - i
        run_on = number.value != value and value < 10 and word.isalpha()  # "bin one sixty eight"
        end = j + 1 if run_on else number.end
        mark = at(atoms, end)
        if mark not in _LISTING or (mark == "," and not noun.endswith("s")):  # "17 in tray 1, 12 outside"
            return end - i
        j = end + 1


def _is_measured(atoms: Sequence[str], number: Number, measures: Measures) -> bool:
    """Whether a unit follows a number; in "tray two tray three" none does."""
    unit = read_unit(atoms, number.end, number.value, measures)
    return unit is not None and (unit.measure.name not in NEEDS_OF or at(atoms, unit.end) == "of")


def _is_list_mark(atoms: Sequence[str], i: int) -> bool:
    """Whether a figure only numbers the points of a list: "1) top tray"."""
    return at(atoms, i + 1) == ")" and at(atoms, i - 1) in ("", "\n", ".", ";", ",")


def _ratio(atoms: Sequence[str], i: int) -> int:
    """How many atoms are a ratio or a size in two directions: "50/50", "1:1", "4x6", "six by four", "2x"."""
    mark, second = at(atoms, i + 1), at(atoms, i + 2)
    if mark in ("x", "×", "by"):
        number = read_number(atoms, i + 2)
        if number:
            return number.end - i
        return 2 if mark != "by" and (second in _AS_OFTEN or not second.isalpha()) else 0  # "3 x banana"
    if not (atoms[i].isdecimal() and second.isdecimal()):
        return 0
    labelled = at(atoms, i - 1) in _LABELS  # "row 1: 88 F"
    return 3 if (mark == ":" and not labelled) or (mark == "/" and atoms[i] == second) else 0


def _date(atoms: Sequence[str], i: int) -> int:
    """How many atoms are a date or its number: "3 march", "march third", "2026-03-05", "8/2", "in 2025"."""
    word, mark = atoms[i], at(atoms, i + 1)
    if word.isdecimal():
        if mark in ("-", "/") and at(atoms, i + 3) == mark and at(atoms, i + 4).isdecimal():
            return 5
        if mark == "/" and at(atoms, i + 2).isdecimal() and _is_day_and_month(atoms, i):
            return 3
        if len(word) == 4 and word[:2] in ("19", "20") and at(atoms, i - 1) in _IN_YEAR:
            return 1
    number = read_number(atoms, i)
    if not number or not 1 <= number.value <= 31:
        return 0
    follows = at(atoms, number.end)
    dated = at(atoms, i - 1) in MONTHS and at(atoms, i - 1) not in ("may", "march")
    dated = dated or (follows in MONTHS and at(atoms, number.end + 1) not in _VERBS_AFTER_MAY)
    dated = dated or (at(atoms, i - 1) in ("may", "march") and not follows.isalpha())
    return number.end - i if dated else 0


def _is_day_and_month(atoms: Sequence[str], i: int) -> bool:
    """Whether "8/2" is a day: no common fraction, or after a word that goes before days."""
    top, bottom = int(atoms[i][:9]), int(atoms[i + 2][:9])
    if not (1 <= top <= 31 and 1 <= bottom <= 31 and min(top, bottom) <= 12):
        return False
    return not (bottom in _COMMON and top < bottom) or at(atoms, i - 1) in _ON_DAY
