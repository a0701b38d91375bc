"""What is left undone: "skipping food this week", "forgot to water"."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft, Target
from assistant.reading.kinds.before import lately
from assistant.reading.kinds.near import after, before
from assistant.reading.numbers import cardinal
from assistant.reading.sketch import Item, Mention

_WATERING = frozenset(("water", "watering", "misting", "mist"))
_CARE = frozenset(
    "food feeding feed fed scraps water watering bedding meal supper dinner breakfast lunch".split()
)
_FOOD = frozenset("food feeding feed fed scraps".split())
_NOT = frozenset(("not", "n't", "never", "nothing"))
_ANYTHING = frozenset(("anything", "nothing", "any", "owt", "nowt"))
_GIVING = {"water": "water"} | dict.fromkeys(("give", "get", "feed", "add", "went"), "feed")
_NEEDED = frozenset(("need", "needs", "needed", "wanted", "want", "wants", "needing", "call", "called"))
_LEAVING = (["leaving", "out"], ["left", "out"], ["keeping", "out"], ["kept", "out"])
_AT_A_PLACE = frozenset(("there", "here", "in", "for"))
_GIVEN = ("feed", "bed", "water", "amend")
_PUT_IN = ("feed", "bed", "water", "amend")
_NOTHING = frozenset("nothing nil zip nada none zilch nowt nix".split())
_NOTHING_MORE = frozenset(
    "in today tonight added for now it there here yet and the - : – , got gets fed".split()
)
_HELD = frozenset(("hold", "holding", "held"))
_OF_FOOD = frozenset(("feed", "leftover"))
_UNFED = frozenset(("unfed", "unfeed"))
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
    if _taken_back(c):
        return
    rules = (_fronted, _nothing_new, _just_nothing, _not_to_feed, _nothing_given, _a_miss, _not_needed)
    draft = next((found for rule in rules if (found := rule(c)) is not None), None)
    if draft is not None:
        yield draft


def _fronted(c: Context) -> Draft | None:
    """ "tangerine peels | NOT going in", "the skins | I'm leaving out": the thing ends the clause before."""
    last = c.sketch.clauses[c.index - 1] if c.index else None
    if last is None or c.clause.start - last.end > 1:
        return None
    if c.items and c.items[0].start - c.clause.start < 4:
        return None
    said = c.words[c.clause.start : c.clause.start + 5]
    negated = said[0] in _NOT and said[1:2] == ["going"] and said[2:3] in (["in"], ["into"])
    left = any(c.words[i : i + 2] in _LEAVING for i in range(c.clause.start, c.clause.start + 4))
    if not negated and not left:
        return None
    spoken = [d for d in c.drafts if d.end == last.end and d.kind in ("feed", "prepare", "bed")]
    thing = next((m for m in c.sketch.within("thing", last.start, last.end) if m.end == last.end), None)
    if thing is None or any(d.kind == "feed" and d.state == "ruled_out" for d in spoken):
        return None
    item = next((i for i in c.finder.of(last, [], False) if i.end == thing.end), None)
    if item is None or item.topic not in _SKIPPED_THINGS:
        return None
    if negated and spoken:
        return None
    c.clause.used.update(v.start for v in c.here("verb") if v.start < c.clause.start + 4)
    kind = "bed" if item.topic == "bedding" else "feed"
    return Draft(kind, item.start, c.clause.start + 3, c.clause, state="ruled_out", item=item.name)


def _nothing_new(c: Context) -> Draft | None:
    """ "so nothing new there", "none for t1": no food, said of a place."""
    for i in range(c.clause.start, c.clause.end):
        new = c.words[i : i + 2] == ["nothing", "new"] and c.word(i + 2) in _AT_A_PLACE
        none = c.words[i : i + 2] == ["none", "for"] and any(
            p.start in (i + 2, i + 3) for p in c.clause.places
        )
        new = new or (
            c.words[i : i + 3] == ["no", "more", "for"] and c.word(i + 3) in ("them", "these", "now")
        )
        given = next((d.kind for d in reversed(c.drafts[-4:]) if d.kind in _GIVEN), None)
        if (new or (none and given)) and not c.items:
            return _ruled_out(c, given if none and given else "feed", i, i + 2)
    return None


def _taken_back(c: Context) -> bool:
    """ "water: | none": the word by itself, right behind what seemed put in."""
    last = c.drafts[-1] if c.drafts else None
    if last is None or last.amount is not None or last.kind not in _PUT_IN or last.state != "done":
        return False
    if not _NOTHING.issuperset(c.words[c.clause.start : c.clause.end]) or last.end != c.clause.start:
        return False
    last.state, last.end = "ruled_out", c.clause.end
    return True


def _just_nothing(c: Context) -> Draft | None:
    """ "T3: nothing in", "two flies in the stack, none in the tub", "food none": with a word for nothing."""
    at = next((i for i in range(c.clause.start, c.clause.end) if c.words[i] in _NOTHING), None)
    if at is None or not (c.clause.places or c.words[c.clause.start] in _FOOD):
        return None
    placed = {i for p in c.clause.places for i in range(p.start, p.end)}
    rest = {c.words[i] for i in range(c.clause.start, c.clause.end) if i not in placed}
    if rest - _NOTHING - _NOTHING_MORE - _FOOD:
        return None
    c.clause.used.update(range(c.clause.start, c.clause.end))
    last = next((d for d in c.drafts[-1:] if lately(c, d, 1)), None)
    if last is not None and last.kind in ("sighting", "leftover"):
        return Draft(last.kind, at, c.clause.end, c.clause, item=last.item, level=0.0)
    there = {d.kind for d in c.drafts[-4:] if last is not None and d.clause.where == last.clause.where}
    one = last is not None and there == {last.kind} and last.kind in _GIVEN
    kind, item = (last.kind, last.item) if one and last is not None else ("feed", None)
    return Draft(kind, at, c.clause.end, c.clause, state="ruled_out", item=item)


def _nothing_given(c: Context) -> Draft | None:
    """ "not adding anything", "gave them nothing", "nothing's been watered"."""
    for v in c.here("verb"):
        kind = _GIVING.get(v.value)
        if kind is None or v.start in c.clause.used:
            continue
        lead, told = before(c, v.start, 4), after(c, v.end, 4)
        anything = bool(_ANYTHING & set(told)) and (_NOT & {"nothing", *lead, *told})
        passive = "nothing" in lead and told[:1] != ["but"]
        if (anything or passive) and not any(i.start >= v.start - 4 for i in c.items):
            c.clause.used.update(range(v.start, v.end))
            return _ruled_out(c, kind, v.start, min(v.end + len(told), c.clause.end))
    return None


def _not_needed(c: Context) -> Draft | None:
    """ "it doesn't need any water", "no food needed"."""
    for i in range(c.clause.start, c.clause.end):
        if c.words[i] not in _NEEDED:
            continue
        lead, told = before(c, i, 4), after(c, i + 1, 4)
        denied = bool(_NOT & set(lead)) or "no" in (*lead, *told[:1])
        care = next((w for w in (*told, *lead) if w in _CARE), None)
        if denied and care is not None and not any(v.value == "water" for v in c.here("verb")):
            c.taken.update(x.start for x in c.items if i - 4 <= x.start <= i + 4)
            return _ruled_out(c, _kind([care]), max(c.clause.start, i - 2), i + 1)
    return None


def _a_miss(c: Context) -> Draft | None:
    """ "gave feeding a miss"."""
    for i in range(c.clause.start, c.clause.end - 1):
        if c.words[i : i + 2] == ["a", "miss"]:
            lead = c.words[max(c.clause.start, i - 4) : i]
            if _CARE & set(lead):
                c.clause.used.update(v.start for v in c.here("verb") if v.start < i)
                return _ruled_out(c, _kind(lead), max(c.clause.start, i - 2), i + 2)
    return None


def _ruled_out(c: Context, kind: str, start: int, end: int) -> Draft:
    item = "water" if kind == "water" else None
    return Draft(kind, start, end, c.clause, state="ruled_out", item=item)


def _not_to_feed(c: Context) -> Draft | None:
    """ "do not let me feed before that", "the far end I left unfed"."""
    for i in range(c.clause.start, c.clause.end):
        let = c.words[i : i + 3] == ["let", "me", "feed"] and c.word(i - 1) in _NOT
        if (let or c.words[i] in _UNFED) and not c.items:
            c.clause.used.update(v.start for v in c.here("verb") if i - 1 <= v.start < i + 3)
            return Draft("feed", max(c.clause.start, i - 2), i + 1 + 2 * let, c.clause, state="ruled_out")
    return None


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
    where = None if spoken or c.clause.places else _numbered(c, m.end)
    return Draft(kind, m.start, m.end + spoken, c.clause, state="ruled_out", item=of, where=where)


def _numbered(c: Context, i: int) -> tuple[Target, ...] | None:
    """ "I'm skipping three": a bare number that a tier of the bin has."""
    bin_ = c.clause.where[0][0] if c.clause.where else None
    if bin_ and c.word(i) and bin_.split()[-1] == c.word(i):
        return ((bin_, None),)
    tier = c.position(cardinal(c.word(i)) or 0, bin_)
    return ((bin_, tier),) if tier and c.word(i) else None


def _kind(rest: list[str]) -> str:
    if _WATERING & set(rest[:4]):
        return "water"
    return "bed" if "bedding" in rest[:4] else "feed"


def _skips_place(c: Context, m: Mention, rest: list[str]) -> bool:
    """ "tray three I skipped", "skip it": the word itself, with a place or a pointer."""
    pointed = bool(c.clause.places) or not rest or "it" in rest or "this" in rest
    pointed = pointed or _numbered(c, m.end) is not None
    held = c.words[m.start] in _HELD and any(d.kind in _OF_FOOD and lately(c, d, 2) for d in c.drafts[-4:])
    return (c.words[m.start].startswith("skip") and pointed) or (held and not rest)
