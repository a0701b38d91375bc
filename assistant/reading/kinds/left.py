"""Food seen uneaten: "the rind's half gone", "still three quarters there", "most of the turnip tops" (contract 4)."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft
from assistant.reading.sketch import Item, Mention

_GONE = frozenset("gone eaten finished away disappeared had done".split())
_THERE = frozenset("left there remaining uneaten still remains here".split())
_POINTERS = frozenset("it those they that these this them which".split())
_ADDING = frozenset(
    "add feed give went mix pour bed cover prepare buy sell giveaway water mixin takeout".split()
)
_WHOLE_OF = frozenset(("all", "most", "half"))


def leftover(c: Context) -> Iterator[Draft]:
    """Foods of the clause with the share seen left; null where no share is said."""
    foods = [i for i in c.free() if "food" in i.topics or i.topic == "unknown"]
    yield from _eaten(c, foods)
    foods = [f for f in foods if f.start not in c.taken]
    shares = _shares(c)
    if not shares:
        yield from _remaining(c, foods)
        yield from _found(c, [f for f in foods if f.start not in c.taken])
        return
    for start, end, level in shares:
        item = _food(c, foods, start, end)
        if item is not None:
            c.taken.add(item.start)
            foods = [f for f in foods if f is not item]
            yield from _draft(c, item.name, min(start, item.start), max(end, item.end), level, item.doubts)
            for more in _joined(c, foods, item, end):
                c.taken.add(more.start)
                foods = [f for f in foods if f is not more]
                yield from _draft(c, more.name, more.start, max(end, more.end), level, more.doubts)
        elif level is not None and not foods and _pointing(c, start, end):
            name = _antecedent(c)
            if name:
                yield from _draft(c, name, start, end, level, ())


def _eaten(c: Context, foods: list[Item]) -> Iterator[Draft]:
    """ "they finished the papaya skins", "gone through every bit of that cabbage"."""
    verb = next((v for v in c.here("verb") if v.value == "eat"), None)
    if verb is None or c.words[verb.start] in ("eat", "eating", "eats"):
        return
    denied = {"not", "n't", "nearly", "almost", "never"} & set(
        c.words[max(c.clause.start, verb.start - 3) : verb.start]
    )
    item = next((f for f in foods if 0 <= f.start - verb.end <= 6), None)
    if item is None or denied or item.amount is not None:
        return
    c.taken.add(item.start)
    yield Draft("leftover", verb.start, item.end, c.clause, item=item.name, level=0.0, doubts=item.doubts)


_QUANTIFIERS = {
    "little": 0.25,
    "bit": 0.25,
    "few": 0.25,
    "bits": 0.25,
    "half": 0.5,
    "most": 0.75,
    "lot": 0.75,
    "lots": 0.75,
    "all": 1.0,
    "no": 0.0,
}


def _remaining(c: Context, foods: list[Item]) -> Iterator[Draft]:
    """ "there's a little cantaloupe left"."""
    for item in foods:
        if (
            not {"left", "remaining", "uneaten"} & set(c.words[item.end : item.end + 3])
            or item.amount is not None
            or any(v.value == "leave" and v.start < item.start for v in c.here("verb"))
        ):
            continue
        level = next(
            (
                _QUANTIFIERS[w]
                for w in c.words[max(c.clause.start, item.start - 4) : item.start]
                if w in _QUANTIFIERS
            ),
            None,
        )
        c.taken.add(item.start)
        yield Draft(
            "leftover",
            max(c.clause.start, item.start - 2),
            item.end + 1,
            c.clause,
            item=item.name,
            level=level,
            doubts=item.doubts,
        )
        return


def _found(c: Context, foods: list[Item]) -> Iterator[Draft]:
    """ "there's swede in there", "I'm seeing corn cobs": food seen, with no word of how much."""
    if not foods or foods[0].amount is not None or any(v.value != "see" for v in c.here("verb")):
        return
    there = any(
        c.words[i] == "there" and c.vocabulary.role(c.word(i + 1), "copula")
        for i in range(c.clause.start, c.clause.end)
    )
    seen = c.here("verb") and c.words[c.here("verb")[0].start] not in ("see",)
    inside = c.words[foods[0].end : foods[0].end + 2] in (["in", "there"], ["in", "here"], ["left", "in"])
    if not inside or not (there or seen) or c.has(frozenset(("no", "not", "n't", "mold", "mould"))):
        return
    item = foods[0]
    c.taken.add(item.start)
    yield Draft("leftover", item.start, item.end + 2, c.clause, item=item.name, doubts=item.doubts)


def _draft(
    c: Context, name: str, start: int, end: int, level: float | None, doubts: tuple[str, ...]
) -> Iterator[Draft]:
    yield Draft("leftover", start, end, c.clause, item=name, level=level, doubts=doubts)


def _shares(c: Context) -> list[tuple[int, int, float | None]]:
    """Every word for a share, and every fraction said of what is left or gone, in order."""
    found: list[tuple[int, int, float | None]] = []
    for span in c.amounts:
        if span.unit is not None or not 0 < span.best <= 1 or span.start in c.clause.used or span.currency:
            continue
        after = c.words[span.end : min(span.end + 5, c.clause.end)]
        before = c.words[max(c.clause.start, span.start - 3) : span.start]
        if span.best == 1:
            continue
        if _GONE & set(after[:2]) or "had" in before or "eaten" in before:
            found.append((span.start, span.end + 1, 1 - span.best))
            c.use(span)
        elif (
            _THERE & set(after)
            or _THERE & set(before)
            or ("down" in before and "to" in before)
            or _copula(c, span.start - 1)
        ) or (
            c.word(span.end) in ("of", "the", "that", "those")
            and not c.here("verb")
            and any(0 <= i.start - span.end <= 5 for i in c.items)
        ):
            found.append((span.start, span.end, span.best))
            c.use(span)
    taken = {i for s, e, _ in found for i in range(s, e)}
    for m in c.here("leftover"):
        if m.value is None and any(i.start == m.end for i in c.items):
            continue
        if (
            m.value == 0.0
            and c.words[m.end - 1] == "gone"
            and c.word(m.end)
            in ("off", "bad", "sour", "moldy", "mouldy", "to", "into", "in", "on", "over", "up")
        ):
            continue
        if taken & set(range(m.start, m.end)) or any(
            a.unit and a.start < m.end and m.start < a.end for a in c.amounts
        ):
            continue
        found.append((m.start, m.end, _unless_denied(c, m)))
    found.sort()
    return _merged(c, found)


def _copula(c: Context, i: int) -> bool:
    return c.vocabulary.role(c.word(i), "copula") or c.word(i) in ("about", "still", "at")


def _unless_denied(c: Context, m: Mention) -> float | None:
    """ "not gone" is still there."""
    level: float | None = m.value
    if level == 0.0 and any(
        w in ("not", "n't", "never") for w in c.words[max(c.clause.start, m.start - 3) : m.start]
    ):
        return None
    return level


def _merged(c: Context, found: list[tuple[int, int, float | None]]) -> list[tuple[int, int, float | None]]:
    """ "still there, about three quarters": shares side by side are one, and the one with a figure counts."""
    out: list[tuple[int, int, float | None]] = []
    for start, end, level in found:
        if out and start - out[-1][1] <= 3 and not any(out[-1][1] <= i.start < start for i in c.items):
            s, _, known = out[-1]
            out[-1] = (
                s,
                end,
                level if level is not None and (known is None or level not in (1.0,)) else known,
            )
        else:
            out.append((start, end, level))
    return out


def _food(c: Context, foods: list[Item], start: int, end: int) -> Item | None:
    """The food a share is said of: after "half the", else the nearest before, else the nearest after."""
    if any(v.value in _ADDING for v in c.here("verb") if v.end <= start or v.start >= end) and not _seen(
        c, start, end
    ):
        foods = [f for f in foods if f.amount is None]
    partitive = (
        c.word(end) in ("of", "the", "that", "those", "my")
        or c.word(end - 1) in ("of", "the")
        or c.word(start) in _WHOLE_OF
    )
    after = [f for f in foods if 0 <= f.start - end <= 5]
    if partitive and after:
        return after[0]
    before = [f for f in foods if f.end <= start and start - f.end <= 12]
    if before:
        return before[-1]
    return after[0] if after else None


def _seen(c: Context, start: int, end: int) -> bool:
    return any(w in ("still", "there", "left", "gone") for w in c.words[start:end])


def _joined(c: Context, foods: list[Item], item: Item, end: int) -> list[Item]:
    """ "the peels and the cores are gone": the same share for each of a list."""
    group = [f for f in foods if f.end <= item.start and item.start - f.end <= 3 and f.amount is None]
    if group and any(w in ("and", "&", ",") for w in c.words[group[-1].end : item.start]):
        return group[-1:]
    return []


def _pointing(c: Context, start: int, end: int) -> bool:
    if c.vocabulary.role(c.word(end), "copula") and c.word(end + 1) in ("left", "there", "still", "gone"):
        return True
    return (
        bool(_POINTERS & set(c.words[c.clause.start : end + 2]))
        or start == c.clause.start
        or c.word(start - 1) in ("are", "is", "'s")
    )


def _antecedent(c: Context) -> str | None:
    """The food spoken of just before, where the clause only points at it."""
    floor = c.sketch.clauses[max(0, c.index - 3)].start
    foods = [
        m for m in c.sketch.within("thing", floor, c.clause.start) if any(t.topic == "food" for t in m.value)
    ]
    return foods[-1].value[0].name if foods else None
