"""A new bin set up, and the name that it is given."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.denials import denied
from assistant.reading.kinds.governing import act_of
from assistant.reading.kinds.near import spend
from assistant.reading.sketch import Mention

_POINTING = frozenset(("that", "one", "it", "which"))
_CALLING = frozenset(("call", "calling", "called", "named", "name"))
_CALLED = frozenset("it this that one the her him".split())
_NEW = frozenset(("new", "brand", "up"))
_ONE_MORE = frozenset("another the a my our second third new other next".split())
_LETTERS = frozenset("bcdefgh")
_ANOTHER = frozenset(("a", "another", "second", "third", "new"))
_ANY_BIN = frozenset(("bin", "worm bin", "tub", "tote", "box", "farm", "worm farm", "unit", "system"))
"""Names that say no more than that it is a bin."""

_WHERE_FROM = frozenset("with at from in on off by".split())
_MADE_OF = frozenset("in of from - – : out with using".split())
_NUMBERS = frozenset("one two three four five six".split())


def start(c: Context) -> Iterator[Draft]:
    """A starting verb with a word for a bin, or with a bin that the set-up has not got."""
    known = {b.name for b in c.sketch.setup}
    for v in c.here("verb"):
        if act_of(c, v) != "start" or denied(c, v.start) or _setting_out(c, v):
            continue
        name, end = _new_bin(c, v)
        if name is None:
            name, end = _behind(c, v)
        fresh = c.clause.bin is not None and c.clause.bin not in known
        pointed = _POINTING & set(c.words[c.clause.start : v.end + 4])
        if name is None and not (fresh and pointed):
            continue
        spend(c, v)
        name = _called(c, end) or (_made_of(c, end) if name in _ANY_BIN else name)
        if name and name not in known:
            _goes_on(c, name)
        yield Draft("start", v.start, max(end, v.end), c.clause, where=((name, None),) if name else None)
        return
    yield from _announced(c, known)


def _setting_out(c: Context, v: Mention) -> bool:
    """ "starting with the tower", "start at the top": where a walk begins."""
    return c.words[v.start] != "started" and c.word(v.end) in _WHERE_FROM


def _behind(c: Context, v: Mention) -> tuple[str | None, int]:
    """ "already set up | bin 3", "built the new one": the bin stands behind, or its name comes later."""
    after = c.sketch.starting("place", v.end)
    if after is not None and after.bin and after.bin not in {b.name for b in c.sketch.setup}:
        return after.bin, after.end
    i = v.end
    while i < v.end + 4 and c.word(i) in _ONE_MORE:
        i += 1
    if i > v.end and c.word(i) == "one":
        name = _called(c, i + 1)
        return name, i + 1
    return None, v.end


def _made_of(c: Context, end: int) -> str | None:
    """ "a new bin | in the black tote", "new bin started | - the black tote": what it is made of names it."""
    for m in c.sketch.within("binnoun", end, min(end + 9, len(c.words))):
        front = c.words[end : m.start]
        led = next((k for k in range(len(front) - 1, -1, -1) if front[k] in _MADE_OF), None)
        if led is None or "." in front or "," in front[: led + 1]:
            continue
        words = [w for w in front[led + 1 :] if not c.vocabulary.role(w, "det")]
        if len(words) <= 2:
            return " ".join([*words, c.words[m.start]])
    return None


def _announced(c: Context, known: set[str]) -> Iterator[Draft]:
    """ "new bin bucket B: ...": no verb, at the beginning of what is told."""
    i = c.clause.start
    if c.words[i : i + 1] != ["new"] or c.sketch.covering("place", i) is not None:
        return
    noun = next((m for m in c.here("binnoun") if m.start == i + 1), None)
    colon = next((k for k in range(i + 1, min(i + 7, c.clause.end)) if c.words[k] == ":"), None)
    if noun is None:
        return
    started = next((v for v in c.here("verb") if v.start == noun.end and act_of(c, v) == "start"), None)
    if started is not None and (name := _made_of(c, started.end) or _called(c, started.end)):
        spend(c, started)
        _goes_on(c, name)
        yield Draft("start", i, started.end, c.clause, where=((name, None),))
        return
    if colon is None or any(v.start < colon for v in c.here("verb")):
        return
    behind = noun.end == colon
    name = _after_colon(c, colon + 1) if behind else c.sketch.raw(noun.end, colon)[0]
    if not name or name.lower() in {b.lower() for b in known}:
        return
    _goes_on(c, name)
    yield Draft("start", i, colon, c.clause, where=((name, None),))


def _after_colon(c: Context, begin: int) -> str:
    """ "new bin: the cooler."."""
    start = begin + c.vocabulary.role(c.word(begin), "det")
    end = start
    while end < start + 3 and c.finder.plain(end):
        end += 1
    return " ".join(c.words[start:end]) if c.word(end) in ("", ".", ",", "-", ";") else ""


def _called(c: Context, begin: int) -> str | None:
    """ "... so call this one the cooler": the name given to the new bin."""
    for i in range(begin, min(begin + 25, len(c.words) - 2)):
        if c.words[i] not in _CALLING:
            continue
        j = i + 1
        while c.word(j) in _CALLED:
            j += 1
        k = j
        if "what" in c.words[i - 3 : i]:
            return _called_before(c, begin, i)
        while c.finder.plain(k) and k < j + 3:
            k += 1
        return " ".join(c.words[j:k]) or None
    return None


def _called_before(c: Context, begin: int, i: int) -> str | None:
    """ "so blue drum is what we're calling it"."""
    end = next((k for k in range(i - 5, i) if c.words[k : k + 2] in (["is", "what"], ["'s", "what"])), begin)
    first = end
    while first > max(begin, end - 3) and not c.vocabulary.role(c.words[first - 1], "det", "subject", "conj"):
        if c.words[first - 1] in ("so", "and", ",", ".", "then"):
            break
        first -= 1
    return " ".join(c.words[first:end]) or None


def _goes_on(c: Context, name: str) -> None:
    """What is told next is told of the new bin, until another place is named."""
    c.clause.where = ((name, None),)
    for clause in c.sketch.clauses[c.index + 1 :]:
        if clause.places:
            break
        clause.where = ((name, None),)


def _new_bin(c: Context, v: Mention) -> tuple[str | None, int]:
    """The bin that is started: words up to a word for a bin, less the article."""
    for m in c.here("binnoun"):
        if not 0 <= m.start - v.end <= 5:
            continue
        begin = v.end
        while begin < m.start and _before_the_name(c, begin):
            begin += 1
        numbered = c.word(m.end).isdigit() or c.word(m.end) in _NUMBERS or c.word(m.end) in _LETTERS
        end = m.end + numbered
        words = c.words[begin:end]
        if any(c.vocabulary.role(w, "copula", "aux", "subject", "prep") for w in words):
            continue
        known = next((p.bin for p in c.clause.places if p.start <= m.start < p.end and p.bin), None)
        another = _ANOTHER & set(c.words[v.end : m.start])
        return (None if another else known) or " ".join(words), end
    return None, v.end


def _before_the_name(c: Context, i: int) -> bool:
    """ "started up a brand new | tote": words that belong to no name."""
    return c.vocabulary.role(c.words[i], "det", "adverb", "prep") or c.words[i] in _NEW
