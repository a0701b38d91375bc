"""What is left undone: "skipping food this week", "forgot to water"."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft
from assistant.reading.sketch import Item, Mention

_WATERING = frozenset(("water", "watering", "misting", "mist"))
_CARE = frozenset("food feeding feed fed scraps water watering bedding meal".split())
_SKIPPED_THINGS = ("food", "bedding", "amendment")


def skipped(c: Context) -> Iterator[Draft]:
    """ "skipping food this week", "tray three I skipped", "not feeding", "forgot to water"."""
    marks = c.here("mark")
    for m in marks:
        if m.value == "nofood":
            c.taken.update(i.start for i in c.items if m.start <= i.start < m.end + 3 and _just_food(i))
            yield Draft("feed", m.start, m.end, c.clause, state="ruled_out")
            return
    for m in marks:
        draft = _skip(c, m) if m.value == "skip" else None
        if draft is not None:
            yield draft
            return


def _just_food(item: Item) -> bool:
    """Whether a thing is only food or bedding at large, which names nothing that could be skipped."""
    return bool(item.things) and item.things[0].klass == "mixed"


def _skip(c: Context, m: Mention) -> Draft | None:
    """What a word of skipping rules out: an item, a kind of care, or the whole feeding of a place."""
    rest = c.words[m.end : c.clause.end]
    kind = _kind(rest)
    item = next((i for i in c.free() if i.start >= m.end and i.topic in _SKIPPED_THINGS), None)
    if item is not None and item.things and not _just_food(item):
        c.taken.add(item.start)
        return Draft(kind, m.start, item.end, c.clause, state="ruled_out", item=item.name)
    spoken = bool(_CARE & set(rest[:5]))
    if not spoken and not _skips_place(c, m, rest):
        return None
    if item is not None:
        c.taken.add(item.start)
    c.clause.used.update(v.start for v in c.here("verb"))
    of = "water" if kind == "water" else None
    return Draft(kind, m.start, m.end + spoken, c.clause, state="ruled_out", item=of)


def _kind(rest: list[str]) -> str:
    if _WATERING & set(rest[:4]):
        return "water"
    return "bed" if "bedding" in rest[:4] else "feed"


def _skips_place(c: Context, m: Mention, rest: list[str]) -> bool:
    """ "tray three I skipped", "skip it": the word itself, with a place or a pointer."""
    pointed = bool(c.clause.places) or not rest or "it" in rest or "this" in rest
    return c.words[m.start].startswith("skip") and pointed
