"""Organisms seen or looked for, and how many (contract 4, 5.8, 5.13)."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.sketch import Item, Mention

_DENIALS = frozenset("no not n't none zero without never nor any neither nope".split())
_WORM_ACTS = frozenset(
    "take takeout takeoff pick kill move sell buy giveaway give worms bring scoop harvest back swap release hang treat smear count".split()
)
_REASONS = frozenset(("for", "against", "from", "because", "about", "like", "keeps", "keep"))
_FEW, _MANY_COUNT = 5, 2


def sighting(c: Context) -> Iterator[Draft]:
    """One draft an organism; worms only where something is said of them."""
    for item in c.free():
        if item.topic not in ("organism", "worms"):
            continue
        if _handled(c, item):
            continue
        level, start, end = _level(c, item)
        denied = _denied(c, item)
        if denied:
            level, start = 0.0, min(start, denied[0])
            end = max(end, denied[1])
        name = _state_of(c, item)
        if level is None and item.amount is None and name == "worms" and not _telling(c, item):
            continue
        amount = None if denied else quantity(item.amount)
        if amount and amount.unit not in ("piece", "handful"):
            if item.topic == "worms" and amount.unit in ("lb", "oz", "kg", "g", "cup", "bag", "bucket"):
                continue
            amount = None
        if amount is not None and _vague(c, item):
            level, amount = level if level is not None else _counted(amount.best), None
        if level is None or (amount and not denied):
            level = level if level is not None and level >= 3 else _counted(amount.best) if amount else 2.0
        c.taken.add(item.start)
        if item.amount is not None:
            start, end = min(start, item.amount.start), max(end, item.amount.end)
        yield Draft(
            "sighting",
            min(start, item.start),
            max(end, item.end),
            c.clause,
            item=name,
            amount=amount,
            level=level,
            doubts=item.doubts,
        )
    yield from _states_alone(c)


def _vague(c: Context, item: Item) -> bool:
    """Whether the count is only a word for how many: "a few ants" has a level, no figure."""
    span = item.amount
    return span is not None and bool(
        {"few", "couple", "several", "handful", "handfuls"} & set(c.words[span.start : span.end])
    )


def _counted(best: float) -> float:
    return 0.0 if best == 0 else 1.0 if best <= _FEW else 2.0


def _handled(c: Context, item: Item) -> bool:
    """Whether an act takes the creature, or a trap is for it, so that seeing it is not what is said."""
    before = c.word(item.start - 1)
    if before in _REASONS or (
        before in ("the", "those", "any", "more") and c.word(item.start - 2) in _REASONS
    ):
        return True
    if c.words[item.end - 1] == "worm" and (
        before not in ("a", "one", "dead", "single", "no", "lone") or c.finder.plain(item.end)
    ):
        return True
    if before == "get" and c.word(item.start - 2) in ("n't", "not", "always", "never"):
        return True
    if item.topic == "worms" or "worms" in item.topics:
        acts = [
            v
            for v in c.here("verb")
            if v.value in _WORM_ACTS and v.end <= item.start + 1 and item.start - v.end <= 8
        ]
        if acts and not any(
            w in ("see", "saw", "found", "spotted") for w in c.words[c.clause.start : item.start]
        ):
            return True
    return False


def _level(c: Context, item: Item) -> tuple[float | None, int, int]:
    """The abundance that stands nearest: just before, or after with at most a few words between."""
    best: tuple[int, Mention] | None = None
    others = [i for i in c.items if i is not item and i.topic in ("organism", "worms")]
    for layer in ("abundance", "gatherings"):
        for m in c.here(layer):
            if m.value == 0.0 or (
                layer == "gatherings" and item.topic != "worms" and "worms" not in item.topics
            ):
                continue
            if m.end <= item.start:
                distance = item.start - m.end
                blocked = any(m.end <= o.start < item.start for o in others) and distance > 4
            else:
                distance = max(0, m.start - item.end) + 1
                blocked = any(item.end <= o.start <= m.start for o in others)
            if blocked or distance > 9:
                continue
            if best is None or distance < best[0] or (distance == best[0] and m.value > best[1].value):
                best = (distance, m)
    if best is None:
        return None, item.start, item.end
    m = best[1]
    c.clause.used.update(range(m.start, m.end))
    return m.value, min(m.start, item.start), max(m.end, item.end)


def _denied(c: Context, item: Item) -> tuple[int, int] | None:
    """Where a denial of the organism stands: "no mites", "didn't see any gnats", "gnats: none", "flies gone"."""
    for i in range(max(c.clause.start, item.start - 7), item.start):
        if (
            c.words[i] in _DENIALS
            and _leads_to(c, i + 1, item.start)
            and not any(
                i < v.start < item.start and v.value not in ("see", "have", "get") for v in c.here("verb")
            )
        ):
            if (
                c.words[i] in ("not", "n't")
                and c.word(i + 1) in ("many", "much", "a", "too")
                and c.word(i + 2) in ("many", "lot", "of", item.name.split()[0])
            ):
                continue
            if any(i < o.start < item.start and o.amount is not None for o in c.items):
                continue
            return i, item.end
    after = c.words[item.end : min(item.end + 5, c.clause.end)]
    for k, word in enumerate(after):
        if word in ("none", "zero", "nil", "gone", "cleared", "vanished", "nope") and not any(
            o.start >= item.end and o.start < item.end + k for o in c.items
        ):
            if (
                word == "gone"
                and k + 1 < len(after)
                and after[k + 1] in ("to", "down", "up", "into", "deep", "under", "back")
            ):
                return None
            if k and after[k - 1] in ("nearly", "almost", "not", "n't", "mostly"):
                return None
            return item.start, item.end + k + 1
        if (
            word == "n't"
            and k + 1 < len(after)
            and after[k + 1] in ("there", "back", "around", "any", "seen")
        ):
            return item.start, item.end + k + 2
    return None


_SEEING = frozenset(
    "a an any single sign signs of see seeing seen saw more many the one other new live real much spot spotted find found notice noticed sight there been".split()
)


def _leads_to(c: Context, start: int, end: int) -> bool:
    """Whether only words of seeing, articles and a word or two that describe stand between a denial and its creature."""
    others = [w for w in c.words[start:end] if w not in _SEEING]
    return len(others) <= 2 and not any(
        c.vocabulary.role(w, "subject", "and", "copula", "conj", "prep") or w == "," for w in others
    )


def _state_of(c: Context, item: Item) -> str:
    """Worms said to be young, leaving or dead, by the words around them."""
    if item.topic != "worms" and "worms" not in item.topics:
        return item.name
    for m in c.here("worms"):
        if abs(m.start - item.end) <= 9 or abs(item.start - m.end) <= 3:
            return str(m.value)
    return "worms" if item.things and item.things[0].klass == "worm" and item.name == "worm" else item.name


def _telling(c: Context, item: Item) -> bool:
    """Whether something is said of worms that is worth a sighting: seen, lively, where they are."""
    seen = any(v.value == "see" for v in c.here("verb"))
    there = c.word(item.start - 1) in ("are", "'s", "the") and c.word(item.start - 2) in ("there", "where")
    predicate = c.vocabulary.role(c.word(item.end), "copula") or c.word(item.end) in (
        "all",
        "up",
        "down",
        "everywhere",
        "have",
        "=",
        ":",
        "working",
        "in",
        "look",
    )
    return seen or there or predicate


def _states_alone(c: Context) -> Iterator[Draft]:
    """ "a dozen of them dead on the surface", "lots of little ones": no organism is named."""
    creatures = [i for i in c.items if i.topic in ("organism", "worms")]
    for m in c.here("worms"):
        if any(
            abs(i.start - m.end) <= 3 or abs(m.start - i.end) <= 9 for i in creatures if i.topic == "worms"
        ) or any(i.start <= m.start < i.end for i in creatures):
            continue
        amount = next(
            (a for a in c.unused() if a.unit in (None, "piece", "handful") and _said_of(c, a, m)), None
        )
        if amount is None and any(w in _NOBODY for w in c.words[max(c.clause.start, m.start - 4) : m.start]):
            yield Draft(
                "sighting", max(c.clause.start, m.start - 3), m.end, c.clause, item=str(m.value), level=0.0
            )
            return
        level = next(
            (x.value for x in c.here("abundance") if 0 <= m.start - x.end <= 3 or 0 <= x.start - m.end <= 3),
            None,
        )
        pointed = c.word(m.start - 1) in ("them", "'em", "em") or m.value == "juvenile worms"
        if level is None and m.value == "escaping worms" and "they" in c.words[c.clause.start : m.start]:
            level = 4.0 if "all" in c.words[m.start - 1 : m.end] else 2.0
        if amount is None and level is None and not (m.value == "juvenile worms" and pointed):
            continue
        if (
            m.value == "escaping worms"
            and any(i.topic == "cover" for i in c.items)
            and amount is None
            and "they" not in c.words[c.clause.start : m.start]
        ):
            continue
        if amount:
            c.use(amount)
        q = quantity(amount)
        if level is None:
            level = _counted(q.best) if q else 2.0
        yield Draft(
            "sighting",
            min(m.start, amount.start if amount else m.start),
            m.end,
            c.clause,
            item=str(m.value),
            amount=q,
            level=level,
        )
        return
    if not creatures:
        yield from _gathering(c)


_NOBODY = frozenset("nobody nothing none no".split())


def _said_of(c: Context, amount, m: Mention) -> bool:  # type: ignore[no-untyped-def]
    """Whether a count is one of those worms: "a dozen of them dead", "2 dead"."""
    if not 0 <= m.start - amount.end <= 4:
        return False
    return m.start == amount.end or c.word(amount.end) == "of"


def _gathering(c: Context) -> Iterator[Draft]:
    """ "it's just a ball of worms", "one solid knot of them": worms, by the way they gather."""
    for m in c.here("gatherings"):
        if m.start in c.clause.used or c.marked("teaching"):
            continue
        yield Draft("sighting", m.start, m.end, c.clause, item="worms", level=m.value)
        return
