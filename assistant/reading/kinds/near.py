"""What the kinds' functions share: the words near a word, and what a record already speaks of."""

from __future__ import annotations

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context
from assistant.reading.sketch import Item, Mention
from assistant.records import Amount

_SUBJECT = 7
"""Words between a food and what is told of it, a place among them."""
_PUT = frozenset("add feed give went mix mixin turn move harvest".split())
NEGATIONS = frozenset("not n't never isn't no".split())
"""Words that turn a word of look or smell just after them round."""


def before(c: Context, i: int, most: int) -> list[str]:
    """The words of the clause that stand before word `i`, `most` of them at the most."""
    return c.words[max(c.clause.start, i - most) : i]


def after(c: Context, i: int, most: int) -> list[str]:
    """The words of the clause from word `i` on, `most` of them at the most."""
    return c.words[i : min(i + most, c.clause.end)]


def graded(c: Context, i: int, *grades: str) -> bool:
    """Whether a word like "nearly" or "a bit" (grading.csv) stands before word `i` or the word before it."""
    for end in (i, i - 1):
        grade = c.sketch.ending("grade", end)
        if end < i and c.words[end] == "of":
            return False  # "a good bit of standing water"
        if grade is not None and grade.start >= c.clause.start and grade.value in grades:
            return True
    return False


def food_before(c: Context, i: int) -> bool:
    """Whether a food is what is spoken of at word `i`: "the avocado's got | a long way to go"."""
    foods = [x for x in c.items if "food" in x.topics and x.end <= i and x.amount is None]
    if not foods or i - foods[-1].end > _SUBJECT:
        return False
    gap = c.words[foods[-1].end : i]
    said = any(c.vocabulary.role(w, "copula", "aux") or w == "got" for w in gap) or not gap
    put = any(v.value in _PUT and v.start < i for v in c.here("verb"))
    return said and not put and not {",", ".", ";", ":"} & set(gap)


def spend(c: Context, span: Mention) -> None:
    """Mark the words of a mention as spoken for."""
    c.clause.used.update(range(span.start, span.end))


def spent(c: Context, span: Mention) -> bool:
    """Whether a record speaks of a word of the mention already."""
    return bool(c.clause.used & set(range(span.start, span.end)))


def verb_values(c: Context) -> list[str]:
    """What the verbs of the clause say."""
    return [v.value for v in c.here("verb")]


def figure(span: AmountSpan, unit: str) -> Amount:
    """The amount of a span, in a unit that the sentence gives it."""
    return Amount(span.low, span.best, span.high, unit)


def together(item: Item) -> tuple[int, int]:
    """From the first to the last word of a thing and its amount."""
    a = item.amount
    return (min(a.start, item.start), max(a.end, item.end)) if a else (item.start, item.end)


def is_of(item: Item, *names: str) -> bool:
    """Whether the first meaning of a thing has one of these names."""
    return bool(item.things) and item.things[0].name in names
