"""What is done to a bin as a whole, and what is left undone: skips, checks, starts, refreshes, trays that change places."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.kinds.denials import denied
from assistant.reading.kinds.governing import act_of
from assistant.reading.places import BOTTOM
from assistant.reading.sketch import Mention
from assistant.records import Price

_BEDDING = frozenset("bedding bed contents everything lot".split())
_TRAYS = frozenset(
    "tray trays tier tiers box boxes layer level bin drawer crate super body one ones order".split()
)
_CHECKABLE = frozenset("see how look".split())


def skipped(c: Context) -> Iterator[Draft]:
    """ "skipping food this week", "tray three I skipped", "not feeding", "forgot to water"."""
    for m in [m for m in c.here("mark") if m.value == "nofood"]:
        c.taken.update(
            i.start
            for i in c.items
            if m.start <= i.start < m.end + 3 and i.things and i.things[0].klass == "mixed"
        )
        yield Draft("feed", m.start, m.end, c.clause, state="ruled_out")
        return
    for m in [m for m in c.here("mark") if m.value == "skip"]:
        rest = c.words[m.end : c.clause.end]
        kind = (
            "water"
            if {"water", "watering", "misting", "mist"} & set(rest[:4])
            else "bed"
            if "bedding" in rest[:4]
            else "feed"
        )
        item = next(
            (i for i in c.free() if i.start >= m.end and i.topic in ("food", "bedding", "amendment")), None
        )
        if item is not None and item.things and item.things[0].klass != "mixed":
            c.taken.add(item.start)
            yield Draft(kind, m.start, item.end, c.clause, state="ruled_out", item=item.name)
            return
        spoken = {"food", "feeding", "feed", "fed", "scraps", "water", "watering", "bedding", "meal"} & set(
            rest[:5]
        )
        if not spoken and not (
            c.words[m.start].startswith("skip")
            and (c.clause.places or "it" in rest or not rest or "this" in rest)
        ):
            continue
        if item is not None:
            c.taken.add(item.start)
        c.clause.used.update(v.start for v in c.here("verb"))
        yield Draft(
            kind,
            m.start,
            m.end + (1 if spoken else 0),
            c.clause,
            state="ruled_out",
            item="water" if kind == "water" else None,
        )
        return


def check(c: Context) -> Iterator[Draft]:
    """A look to be taken, where it is planned; a look taken gives nothing by itself."""
    if c.clause.stance != "planned":
        return
    for v in c.here("verb"):
        if v.value not in ("check", "count", "weigh", "measureact") and not (
            v.value == "see" and c.word(v.end) in ("if", "how", "whether", "what")
        ):
            continue
        item = next((i for i in c.free() if i.start >= v.end), None)
        name = item.name if item else _looked_at(c, v)
        if item:
            c.taken.add(item.start)
        c.clause.used.update(range(v.start, v.end))
        yield Draft("check", v.start, item.end if item else v.end, c.clause, item=name)
        return


def _looked_at(c: Context, v: Mention) -> str | None:
    for i in range(v.end, c.clause.end):
        if c.words[i] in (
            "moisture",
            "temperature",
            "temp",
            "ph",
            "drawstring",
            "lid",
            "weight",
            "level",
            "drain",
            "tap",
            "trap",
            "traps",
            "sump",
            "mold",
            "smell",
        ):
            return "temperature" if c.words[i] == "temp" else c.words[i]
    return None


def refresh(c: Context) -> Iterator[Draft]:
    """The bedding of a bin or tier replaced."""
    for v in c.here("verb"):
        act = v.value
        near = set(c.words[v.start : min(v.end + 6, c.clause.end)]) | set(
            c.words[max(c.clause.start, v.start - 5) : v.start]
        )
        redone = c.words[v.start] in ("redo", "redid", "redone") and bool(c.clause.places)
        if act == "refresh" or redone or (act in ("replace",) and _BEDDING & near):
            if act == "refresh" and any(i.topic not in ("bedding", "cover") for i in c.free()):
                continue
            yield from _refreshed(c, v.start, v.end)
            return
    for i in range(c.clause.start, c.clause.end):
        pair = c.words[i : i + 2]
        anew = (
            pair in (["new", "bedding"], ["fresh", "bedding"])
            and "all" in c.words[max(c.clause.start, i - 2) : i]
        )
        if (
            anew
            or (pair[0] == "refresh"
            and c.word(i - 1) not in ("the", "last", "since", "to", "a"))
            or pair
            in (["bedding", "change"], ["bedding", "swap"], ["bedding", "refresh"], ["fresh", "start"])
        ):
            yield from _refreshed(c, i, i + 2)
            return


def _refreshed(c: Context, start: int, end: int) -> Iterator[Draft]:
    if denied(c, start):
        return
    for item in c.free():
        if item.topic == "bedding" and item.things and item.things[0].name in ("bedding", "old bedding"):
            c.taken.add(item.start)
    c.clause.used.update(range(start, end))
    yield Draft("refresh", start, end, c.clause)


def start(c: Context) -> Iterator[Draft]:
    """A new bin set up: a starting verb with a word for a bin, or with a bin that the set-up has not got."""
    for v in c.here("verb"):
        if act_of(c, v) != "start" or denied(c, v.start):
            continue
        name, end = _new_bin(c, v)
        known = {b.name for b in c.sketch.setup}
        fresh = c.clause.bin is not None and c.clause.bin not in known
        if name is None and not (fresh and set(c.words[v.start : v.end + 4]) & {"that", "one", "it"}):
            continue
        c.clause.used.update(range(v.start, v.end))
        name = _called(c, end) or name
        if name and name not in known:
            _goes_on(c, name)
        yield Draft("start", v.start, max(end, v.end), c.clause, where=((name, None),) if name else None)
        return


def _called(c: Context, begin: int) -> str | None:
    """ "... so call this one the cooler": the name given to the new bin."""
    for i in range(begin, min(begin + 25, len(c.words) - 2)):
        if c.words[i] not in ("call", "calling", "called", "named", "name"):
            continue
        j = i + 1
        while c.word(j) in ("it", "this", "that", "one", "the", "her", "him"):
            j += 1
        k = j
        while c.finder.plain(k) and k < j + 3:
            k += 1
        return " ".join(c.words[j:k]) or None
    return None


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
        while begin < m.start and (
            c.vocabulary.role(c.words[begin], "det", "adverb", "prep")
            or c.words[begin] in ("new", "brand", "up")
        ):
            begin += 1
        end = m.end
        if c.word(end).isdigit() or c.word(end) in ("one", "two", "three", "four", "five", "six"):
            end += 1
        words = c.words[begin:end]
        if any(c.vocabulary.role(w, "copula", "aux", "subject", "prep") for w in words):
            continue
        known = next((p.bin for p in c.clause.places if p.start <= m.start < p.end and p.bin), None)
        return known or " ".join(words), end
    return None, v.end


def restack(c: Context) -> Iterator[Draft]:
    """Trays that change places: a swap gives one for each; a tray put on top or at the bottom gives one."""
    for v in c.here("verb"):
        if v.value == "swap":
            pair = [t for p in c.clause.places for t in p.tiers]
            targets = c.clause.where
            if len(pair) == 2:
                here = targets[0][0] if targets else None
                a, b = (c.position(t, here) for t in pair)
                for one, other in ((a, b), (b, a)):
                    yield Draft(
                        "restack",
                        v.start,
                        max(c.clause.places[-1].end, v.end),
                        c.clause,
                        item="tier",
                        where=((here, one),),
                        to_tier=other,
                    )
                c.clause.used.update(range(v.start, v.end))
                return
            yield from _both_swapped(c, v)
            if (
                not c.clause.used & {v.start}
                and not c.items
                and {"trays", "tiers", "boxes", "levels"} & set(c.words[v.end : v.end + 4])
            ):
                c.clause.used.update(range(v.start, v.end))
                yield Draft("restack", v.start, v.end + 1, c.clause, item="tier")
            return
    yield from _put_on_top(c)


def _both_swapped(c: Context, v: Mention) -> Iterator[Draft]:
    """ "swapped them round", in a bin of two tiers."""
    bin_ = c.clause.where[0][0]
    if (
        not c.sketch.setup
        or c.items
        or not (
            {"them", "trays", "two", "both", "round", "around", "tiers", "boxes"}
            & set(c.words[v.end : v.end + 4])
        )
    ):
        return
    if c.position(BOTTOM, bin_) == 2:
        c.clause.used.update(range(v.start, v.end))
        for one, other in ((1, 2), (2, 1)):
            yield Draft(
                "restack", v.start, v.end + 1, c.clause, item="tier", where=((bin_, one),), to_tier=other
            )


def _put_on_top(c: Context) -> Iterator[Draft]:
    """ "it goes on top", "now it's the new top tray", "put the empty one back on top"."""
    for i in range(c.clause.start, c.clause.end - 1):
        pair = " ".join(c.words[i : i + 2])
        to = (
            1
            if pair in ("on top", "new top", "to the") and (pair != "to the" or c.word(i + 2) == "top")
            else None
        )
        if to is None and pair in ("the bottom", "new bottom") and c.word(i - 1) in ("to", "at", "on", "the"):
            to = BOTTOM
        led = c.word(i - 1) in ("back", "now", "up", "went", "goes") and (
            c.word(i - 2) in ("it", "went", "goes", "now", "'s", "is")
            or bool(_TRAYS & set(c.words[c.clause.start : i]))
        )
        if (
            to is None
            or (not led
            and any(
                item.topic in ("food", "bedding", "amendment", "cover", "treatment", "water")
                for item in c.items
            ))
        ):
            continue
        moved = (
            led
            or any(
                v.value in ("move", "add", "restack", "went", "back", "swap", "lift") for v in c.here("verb")
            )
            or pair.startswith("new")
        )
        if not moved or c.word(i + 2) in ("of", "with") or i in {v.start for v in c.here("verb")}:
            continue
        tray = bool(_TRAYS & set(c.words[c.clause.start : i + 4])) or "it" in c.words[c.clause.start : i]
        if not tray or c.index == 0:
            continue
        here = c.clause.where
        bin_, tier = here[0] if here else (None, None)
        c.clause.used.update(v.start for v in c.here("verb"))
        target = c.position(to, bin_)
        if target == tier:
            continue
        yield Draft(
            "restack",
            max(c.clause.start, i - 6),
            i + 2,
            c.clause,
            item="tier",
            where=((bin_, tier),),
            to_tier=target,
        )
        return


def prices(c: Context, drafts: list[Draft]) -> None:
    """Money in the clause goes to its sale or purchase."""
    for span in (a for a in c.amounts if a.currency):
        trades = [d for d in drafts if d.kind in ("sell", "buy") and d.price is None]
        before = [d for d in trades if d.start <= span.start]
        trade = before[-1] if before else trades[0] if trades else None
        if trade is None:
            continue
        value = span.best
        if c.word(span.end) in ("each", "apiece", "a", "per", "/") and trade.amount:
            value = span.best * trade.amount.best
        trade.price = Price(value, str(span.currency))
        trade.end = max(trade.end, span.end)
        c.use(span)


__all__ = ["check", "prices", "quantity", "refresh", "restack", "skipped", "start"]
