"""What a bin smells of."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.near import NEGATIONS, before, spend
from assistant.reading.sketch import Mention

_SMELLING = frozenset(
    "smell smells odor odour smelling whiff stink nose smelly stinks reek breath pong".split()
)
_ALWAYS_A_SMELL = frozenset(("none", "ammonia"))
_GONE_OFF = frozenset(("rotten", "sour", "musty"))
_OPENING_A_SMELL = ("smell", "like ", "going sour", "gone sour", "odor", "earthy", "vinegary")
_BETWEEN = frozenset(
    "kind of like a the an bit little sort faintly strongly just so really some pretty it kinda them faint "
    "very".split()
)
_NEITHER = frozenset(("neither", "none", "nothing"))
_NO_SMELL = frozenset(("coming", "in", "off", "from", "when"))
_GOOD = frozenset("fine good okay ok great clean nothing anything".split())
_OF_A_NOUN = frozenset("wet old good dirty bad dead hot burnt damp fresh rich clean sweaty moldy dry".split())
_EARTH = frozenset("soil dirt earth ground forest woods rain loam".split())
_POINTING = frozenset(("it", "them", "that"))
_LIKENING = frozenset(("kind", "kinda", "like", "a", "sort"))


def smell(c: Context) -> Iterator[Draft]:
    """A smell named by the lexicon, or the word said after "smells of" / "smells like"."""
    verbs = [v for v in c.here("verb") if v.value == "smell"]
    smelling = bool(verbs) or (bool(c.here("smell")) and c.has(_SMELLING))
    named = [m for m in c.here("smell") if _smelled(c, m, smelling)]
    if named:
        m = _chosen(named)
        value = "none" if _denied(c, m) else str(m.value)
        spend(c, m)
        yield Draft("smell", min(m.start, named[0].start), m.end, c.clause, item=value)
        return
    for v in verbs:
        if v.start not in c.clause.used:
            yield from _as_said(c, v)
            return


def _denied(c: Context, m: Mention) -> bool:
    """ "no sour smell"; not "not dripping, good earthy smell": another reading has the denial there."""
    start = max(c.clause.start, m.start - 4)
    told = [x.end for x in c.here("moisture") if start < x.end <= m.start]
    return bool(NEGATIONS & set(c.words[max([start, *told]) : m.start]))


def _chosen(named: list[Mention]) -> Mention:
    """The first smell that is one; "no funky smell" has none."""
    none = next((m for m in named if m.value == "none"), None)
    told = [m for m in named if m.value != "none"]
    some = next((m for m in told if m.value != "funky"), told[0] if told else named[0])
    return none if none is not None and some.value == "funky" else some


def _smelled(c: Context, m: Mention, smelling: bool) -> bool:
    """Whether a smell word is one here: with a word for smelling about, or unmistakable on its own."""
    if smelling:
        return True
    if any(i.start <= m.start < i.end and i.topic in ("treatment", "food") for i in c.items):
        return False
    if m.value in _GONE_OFF and _listed(c, m):
        return True
    text = " ".join(c.words[m.start : m.end])
    if text.startswith("like ") and (c.here("progress") or c.here("moisture")):
        return False  # "dry and crumbly like soil"
    return m.value in _ALWAYS_A_SMELL or _gone_off(c, m) or text.startswith(_OPENING_A_SMELL)


def _listed(c: Context, m: Mention) -> bool:
    """ "40 worms up the walls, sour, soupy": one of several things told in short."""
    led = c.word(m.start - 1) == "," or m.start == c.clause.start
    ended = c.word(m.end) in (",", ";", ".", "") or m.end == c.clause.end
    return led and ended and not any("food" in i.topics and i.end + 1 >= m.start for i in c.items)


def _gone_off(c: Context, m: Mention) -> bool:
    """ "it's sour": said of the bin where no food is named."""
    said = c.vocabulary.role(c.word(m.start - 1), "copula")
    return m.value in _GONE_OFF and said and not any("food" in i.topics for i in c.items)


def _as_said(c: Context, v: Mention) -> Iterator[Draft]:
    """ "smells of wet dog": the word that follows, as it is said."""
    i = v.end
    while i < c.clause.end and c.word(i) in _BETWEEN:
        i += 1
    if i >= c.clause.end or not _names_a_smell(c, i) or _sniffed(c, v):
        if _NEITHER & set(before(c, v.start, 4)):
            yield Draft("smell", v.start, v.end, c.clause, item="none")
        return
    negated = NEGATIONS & set(before(c, v.start, 3))
    word, end = c.word(i), i + 1
    if c.word(end - 1) in _OF_A_NOUN and end < c.clause.end and _noun(c, end):
        word, end = f"{word} {c.word(end)}", end + 1
    c.clause.used.update(range(v.start, end))
    named = "none" if negated or word in _GOOD else "earthy" if word.split()[-1] in _EARTH else word
    yield Draft("smell", v.start, end, c.clause, item=named)


def _noun(c: Context, i: int) -> bool:
    """Whether the word at `i` can be the noun of the adjective before it."""
    known = c.vocabulary.roles.values()
    word = c.word(i)
    verb = c.sketch.starting("verb", i) is not None or c.sketch.starting("mark", i) is not None
    return word.isalpha() and not verb and not any(word in role for role in known)


def _names_a_smell(c: Context, i: int) -> bool:
    word = c.word(i)
    return (
        word.isalpha()
        and word not in _NO_SMELL
        and not c.vocabulary.role(word, "subject", "prep", "conj", "and", "object", "det", "adverb", "aux")
    )


def _sniffed(c: Context, v: Mention) -> bool:
    """ "smelled it when I opened the lid", "the smell went": no word for a smell follows."""
    if c.word(v.end) in _POINTING and c.word(v.end + 1) not in _LIKENING:
        return True
    return c.vocabulary.role(c.word(v.start - 1), "det") and c.word(v.end) not in ("of", "like")
