"""A look to be taken. A look taken gives nothing by itself: what was seen does."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.near import NEGATIONS, spend
from assistant.reading.sketch import Mention

_LOOKING = frozenset(("check", "count", "weigh", "measureact"))
_SEE_IF = frozenset(("if", "how", "whether", "what"))
_INSTRUMENTS = {"meter": None, "thermometer": "temperature", "probe": "temperature"}
_DO_IT = (["do", "that"], ["do", "it"], ["do", "so"])
_MEASURED = frozenset(("temperature", "temp", "ph"))
_A = frozenset(("a", "another", "quick", "proper", "good", "next", "final"))
_LOOKED_AT = frozenset(
    "moisture temperature temp ph drawstring lid weight level drain tap trap traps sump mold smell "
    "spigot".split()
)


def check(c: Context) -> Iterator[Draft]:
    """A look that is planned, at a thing or at a part of the bin."""
    if c.clause.stance != "planned":
        return
    for v in c.here("verb"):
        if v.value not in _LOOKING and not (v.value == "see" and c.word(v.end) in _SEE_IF):
            continue
        if c.words[v.end : v.end + 2] == ["in", "on"]:  # "Wednesday check in on the tower"
            continue
        item = next((i for i in c.free() if i.start >= v.end), None)
        if item:
            c.taken.add(item.start)
        spend(c, v)
        name, end = (item.name, item.end) if item else (_looked_at(c, v), v.end)
        yield Draft("check", v.start, end, c.clause, item=name)
        return
    draft = _with_an_instrument(c) or _to_be_measured(c) or _put_off(c) or _a_look(c)
    if draft is not None:
        yield draft


def _with_an_instrument(c: Context) -> Draft | None:
    """ "I'll stick the ph meter in it tomorrow"."""
    for v in c.here("verb"):
        if v.value != "add":
            continue
        for i in range(v.end, min(v.end + 5, c.clause.end)):
            if c.words[i] in _INSTRUMENTS and c.word(i + 1) in ("in", "into", "down"):
                spend(c, v)
                c.taken.update(x.start for x in c.items if x.start <= i < x.end)
                ph = "ph" in c.words[v.end : i + 1] or None
                return Draft("check", v.start, i + 1, c.clause, item="ph" if ph else _INSTRUMENTS[c.words[i]])
    return None


def _to_be_measured(c: Context) -> Draft | None:
    """ "I'll take her temperature again tomorrow"."""
    for i in range(c.clause.start, c.clause.end):
        word = next((w for w in c.words[i : i + 5] if w in _MEASURED), None)
        if word and c.words[i] in ("take", "get", "taking"):
            c.clause.used.update(v.start for v in c.here("verb") if v.start <= i + 1)
            c.taken.update(x.start for x in c.items if i < x.start < i + 5)
            return Draft("check", i, i + 4, c.clause, item="temperature" if word == "temp" else word)
    return None


def _put_off(c: Context) -> Draft | None:
    """ "I didn't check the spigot | I'll do that tonight": the look that was not taken is put off."""
    before = c.sketch.clauses[c.index - 1] if c.index else None
    if before is None or not any(c.words[i : i + 2] in _DO_IT for i in range(c.clause.start, c.clause.end)):
        return None
    looks = (v for v in c.sketch.within("verb", before.start, before.end) if v.value in _LOOKING)
    look = next(looks, None)
    if look is None or not any(w in NEGATIONS for w in c.words[before.start : look.start]):
        return None
    thing = next(iter(c.finder.of(before, [], False)), None)
    said = next((w for w in c.words[look.end : before.end] if w in _LOOKED_AT), None)
    return Draft("check", look.start, c.clause.end, c.clause, item=thing.name if thing else said)


def _a_look(c: Context) -> Draft | None:
    """ "I'll have a look at it on Friday"."""
    for i in range(c.clause.start + 1, c.clause.end):
        if (
            c.words[i] in ("look", "peek")
            and c.words[i - 1] in _A
            and not c.vocabulary.role(c.word(i + 1), "conj")
        ):
            item = next((x for x in c.free() if 0 < x.start - i < 5), None)
            if item:
                c.taken.add(item.start)
            c.clause.used.update(v.start for v in c.here("verb") if v.start < i)
            return Draft("check", i, item.end if item else i + 1, c.clause, item=item.name if item else None)
    return None


def _looked_at(c: Context, v: Mention) -> str | None:
    """ "check the lid": the part or reading that is to be looked at."""
    word = next((w for w in c.words[v.end : c.clause.end] if w in _LOOKED_AT), None)
    return "temperature" if word == "temp" else word
