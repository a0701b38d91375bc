"""Corrections that name the record they mend: "the mites, that was the top tray", "strike the bread"."""

from __future__ import annotations

from functools import cache

from assistant.reading.between import Betweens
from assistant.reading.draft import Context, Draft, Target, quantity
from assistant.reading.sketch import Place
from assistant.reading.where import Walk
from lexicon import load

_ARTICLES = ("the", "that", "those", "my", "a")
_PAUSES = (",", ".", "-", "–", "—")


@cache
def betweens() -> Betweens:
    """The words of corrections, read once."""
    return Betweens(load().table("repairs"))


def named(c: Context, new: list[Draft], walk: Walk) -> list[Draft] | None:
    """The drafts as a correction that names one of them leaves them; None where the clause is none."""
    if _undone(c) and c.drafts and not new:
        last = c.drafts[-1].clause
        return [d for d in c.drafts if d.clause is not last]
    if _turned(c):
        return _swapped(c.drafts, new)
    for i in range(c.clause.start, c.clause.end):
        cue = betweens().at(c.words, i, "drop", "about", "strong")
        if (
            cue is None or cue[0] > c.clause.end or (i and betweens().at(c.words, i - 1, "before"))
        ):  # "before I forget"
            continue
        start, dropping, about = _cues(c, i)
        meant = _meant(c, start)
        if meant is None:
            continue
        drafts, end = meant
        if dropping:
            kept = [*c.drafts, *(d for d in new if d.start < i)]
            return [d for d in kept if not any(d is x for x in drafts)]
        if _moved(c, drafts, end, walk, about):
            return c.drafts
    return None


def _cues(c: Context, i: int) -> tuple[int, bool, bool]:
    """Past every word of the correction from `i` on; whether one drops, whether one says "about"."""
    senses: set[str] = set()
    while (piece := betweens().at(c.words, i, "drop", "about", "strong", "filler")) is not None:
        senses.add(piece[1])
        i = piece[0]
    return i, "drop" in senses, "about" in senses


def _meant(c: Context, i: int) -> tuple[list[Draft], int] | None:
    """The newest drafts about the thing named at `i`, and where its name ends."""
    i += c.word(i) in _ARTICLES
    place = c.sketch.starting("place", i) or c.sketch.starting("place", i - 1)
    if place is not None:
        where = c.sketch.walk.targets(place)
        here = [d for d in c.drafts if (d.where or d.clause.where) == where]
        return (here, place.end) if here else None
    thing = c.sketch.starting("thing", i)
    if thing is None:
        return None
    names = {t.name for t in thing.value}
    said = " ".join(c.words[thing.start : thing.end])
    drafts = [d for d in c.drafts if d.item and (d.item in names or said in d.item.split() or said in d.item)]
    return ([d for d in drafts if d.clause is drafts[-1].clause], thing.end) if drafts else None


def _moved(c: Context, drafts: list[Draft], i: int, walk: Walk, about: bool) -> bool:
    """Give the named drafts the place or amount that is said of them next."""
    while c.word(i) in _PAUSES:
        i += 1
    led = betweens().at(c.words, i, "lead")
    if led is None and c.word(i) not in ("was", "were"):
        return False
    i = led[0] if led else i + 1
    while c.word(i) in ("in", "the", "on", "for", "all", "really") and not c.sketch.starting("place", i):
        i += 1
    place, amount = c.sketch.starting("place", i), c.sketch.starting("amount", i)
    if place is not None:
        for draft in drafts:
            draft.where, draft.whole = (
                _other_bin(c, draft, place) or walk.targets(_whole_place(c, place)),
                False,
            )
        return True
    if amount is not None and about:
        for draft in drafts:
            unit = draft.amount.unit if draft.amount and amount.unit is None else None
            draft.amount = quantity(amount, unit=unit)
        return True
    return False


def _other_bin(c: Context, draft: Draft, place: Place) -> tuple[Target, ...] | None:
    """ "that was in the other bin": other than where it was said to be, of two."""
    bins = [b.name for b in c.sketch.setup]
    here = (draft.where or draft.clause.where)[0][0]
    if len(bins) != 2 or here not in bins or not place.word.startswith("other"):
        return None
    return ((bins[1 - bins.index(here)], None),)


def _whole_place(c: Context, place):  # type: ignore[no-untyped-def]
    """A place of two parts, "the stack, middle tray", as its second part where that has the tier."""
    k = place.end + (c.word(place.end) == ",")
    more = c.sketch.starting("place", k)
    if more is not None and place.bin and not place.tiers and more.tiers and not more.bin:
        more.bin = place.bin
        return more
    return place


def _undone(c: Context) -> bool:
    """Whether the clause only says that it did not happen: "no I didn't"."""
    i = c.clause.start
    while i < c.clause.end and (c.word(i) in _PAUSES or betweens().at(c.words, i, "strong", "weak")):
        piece = betweens().at(c.words, i, "undone") or betweens().at(c.words, i, "strong", "weak")
        if piece is None:
            i += 1
        elif piece[1] == "undone":
            break
        else:
            i = piece[0]
    piece = betweens().at(c.words, i, "undone")
    return piece is not None and all(w in _PAUSES for w in c.words[piece[0] : c.clause.end])


def _turned(c: Context) -> bool:
    return any(betweens().at(c.words, i, "swapped") for i in range(c.clause.start, c.clause.end))


def _swapped(drafts: list[Draft], new: list[Draft]) -> list[Draft] | None:
    """ "Wait, other way round": the last two records of one kind change places."""
    last = [d for d in drafts if d.kind == drafts[-1].kind][-2:]
    if len(last) < 2 or new:
        return None
    one, two = last
    here, there = one.where or one.clause.where, two.where or two.clause.where
    one.where, two.where = there, here
    return drafts
