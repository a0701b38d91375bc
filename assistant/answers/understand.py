"""From a question to a query: the cues in its words, its subject, its places and its days."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from assistant.answers.anchors import Anchor, anchor_of, settle
from assistant.answers.facts import Facts
from assistant.answers.periods import Period, periods
from assistant.answers.phrases import Heard, phrases
from assistant.answers.query import Query, Spot
from assistant.answers.residue import unknown_item
from assistant.answers.subject import BY_TOPIC, Subject, subject
from assistant.answers.targets import Targets, pointing, targets
from assistant.reading.sketch import Sketch
from assistant.records import READINGS, Amount, State
from lexicon import Row

AT_FRONT = frozenset(("yesno", "list"))
"""Cues that hold only where the question begins with them."""
INSIDE_DAYS = frozenset(("rate", "each", "monthly", "weekly", "sofar", "often"))
"""Cues that may be part of the words of a day."""
OPENERS = frozenset(
    "so and but ok okay hey well then um uh oh also now right please binside hi hello er".split()
)
UNIT_LEADS = frozenset(("many", "in", "into", "to"))
"""Words before a unit that an answer is wanted in; before a unit that something is sold by:"""
ONE_OF = frozenset(("a", "per", "an", "each", "one"))
ADVISING = frozenset(("advise", "explain", "estimate"))
"""Wants that look at the latest records, whatever day to come they speak of."""
COMING = frozenset(("next", "plan", "due"))
NAMING = frozenset("list count total last first next level trend compare yes_no rate stock".split())
"""Wants that may name a thing which the lexicon does not know."""
PUTTING = frozenset(("feed", "bed", "amend", "worms_added"))
WET, DRY = (4.0, 5.0), (1.0, 2.0)


@dataclass(slots=True)
class Reading:
    """The parts of a question on the way to a query."""

    heard: Heard
    part: range
    cues: dict[str, set[int]]
    subject: Subject
    targets: Targets
    anchor: Anchor | None


def understand(sketch: Sketch, facts: Facts, here: str | None = None) -> Query:
    """The query that a question makes; `here` is the bin spoken of before. Never fails on any text."""
    reading = read(Heard(sketch), facts, here)
    want, asks = _want(reading, facts)
    query = Query(want, asks, reading.subject.kinds, reading.subject.items)
    query = _placed(query, reading)
    query = _dated(query, reading, facts.terms.limits["lately"])
    query = _detailed(query, reading, facts)
    query = _topical(query, reading, facts)
    query = _pointed(query, reading, facts, here)
    settled = reading.anchor and query.want not in ADVISING
    return settle(query, reading.anchor, facts) if settled and reading.anchor else query


def read(heard: Heard, facts: Facts, here: str | None) -> Reading:
    """The cues, subject and places of a question."""
    anchor, part = anchor_of(heard)
    days = heard.covered([(d.start, d.end) for d in heard.sketch.days])
    where = targets(heard, facts, here or facts.spoken_of, part)
    amounts = heard.covered([(a.start, a.end) for a in heard.sketch.amounts if a.unit])
    cued = cues(heard, facts, part, days)
    about = subject(heard, facts, part, days | where.words | amounts, cued.get("trend", set()))
    return Reading(heard, part, cued, about, where, anchor)


def cues(heard: Heard, facts: Facts, part: range, days: set[int]) -> dict[str, set[int]]:
    """Every cue in the words of `part`, with the words that give it."""
    found: dict[str, set[int]] = {}
    front = next((i for i in part if heard.words[i] not in OPENERS), part.start)
    for phrase in phrases(facts.lexicon, "cues").all(heard.words):
        sense = phrase.row["sense"]
        if phrase.start not in part or phrase.end > part.stop:
            continue
        if sense in AT_FRONT and phrase.start != front:
            continue
        if sense not in INSIDE_DAYS and days >= set(range(phrase.start, phrase.end)):
            continue
        found.setdefault(sense, set()).update(range(phrase.start, phrase.end))
    return found


def _want(reading: Reading, facts: Facts) -> tuple[str, str]:
    """The first rule of questions.csv whose cues are all there; a list where none is."""
    held = set(reading.cues)
    about = reading.subject
    if about.kinds and set(about.kinds) <= READINGS - {"sighting", "worm_estimate"}:
        held.add("level")
    if any(facts.terms.like(item, ("worms",)) or item == "worms" for item in about.items):
        held.add("worms")
    if set(about.kinds) - READINGS and len(reading.targets.spots) < 2:
        held.add("kept")
    if topic_of(reading.heard.words, facts, "advice") or topic_of(reading.heard.words, facts, "glossary"):
        held.add("topic")
    if not about.kinds and _given(reading, facts):
        held.add("converting")
    for row in facts.lexicon.table("questions"):
        if set(row["form"].split()) <= held and not _spoilt(row["form"], held, about):
            return (row["want"], row["asks"]) if _meaningful(row, reading) else ("list", "nothing")
    if about.kinds or about.items:
        return "last", "day"
    return ("list", "what") if _placed_or_dated(reading) else ("list", "nothing")


def _placed_or_dated(reading: Reading) -> bool:
    return bool(reading.targets.spots or reading.targets.unknown or reading.heard.sketch.days)


def _meaningful(row: Row, reading: Reading) -> bool:
    """Whether a plain recall names anything at all: a kind, an item, a place, a day, or a doing."""
    about = reading.subject
    plain = row["want"] in ("list", "last", "first") and row["asks"] in (
        "what",
        "who",
        "day",
        "item",
        "place",
    )
    return (
        not plain or bool(about.kinds or about.items or "doing" in reading.cues) or _placed_or_dated(reading)
    )


def _given(reading: Reading, facts: Facts) -> bool:
    """Whether an amount is given and another unit asked for."""
    unit = _unit(reading, facts)[0]
    return any(a.unit not in (None, unit) for a in reading.heard.sketch.amounts) if unit else False


def _spoilt(rule: str, held: set[str], about: Subject) -> bool:
    """Where a rule's cues are there and mean something else."""
    if rule == "howmuch have worms":
        return not set(about.kinds) <= READINGS
    if rule == "howmuch":
        return "level" in held
    if rule == "anything":
        return bool(set(about.kinds) - READINGS)
    if rule == "stock yesno":
        return about.topics == ("organism",) and "worms" not in held
    return rule == "level" and "yesno" in held


def _placed(query: Query, reading: Reading) -> Query:
    where = reading.targets
    query = replace(query, unknown=where.unknown, taken=tuple(where.taken))
    if {"each", "monthly", "weekly", "whichplace"} & set(reading.cues) or where.each:
        query = replace(query, by=_by(reading))
    spots = tuple(where.spots)
    bins = {spot.bin for spot in spots}
    if query.want == "compare" and len(spots) > 1:
        return replace(query, spots=spots)
    if len(bins) == 1:
        tiers = tuple(dict.fromkeys(s.tier for s in spots if s.tier is not None))
        return replace(query, bin=spots[0].bin, tiers=tiers)
    if len(bins) > 1:
        return replace(query, spots=spots, by=query.by or "bin")
    return query


def _pointed(query: Query, reading: Reading, facts: Facts, before: str | None) -> Query:
    """ "It", "this bin", "in there": the bin asked about before, else that of the latest such record."""
    words = reading.heard.words[reading.part.start : reading.part.stop]
    told = query.bin or query.spots or query.unknown or query.by or query.want == "mix" or len(facts.bins) < 2
    if told or not pointing(words):
        return query
    if before:
        return replace(query, bin=before)
    if query.topic == "story":
        return replace(query, bin=facts.spoken_of)
    if query.want == "explain":
        return query
    held = [e for e in facts.choose(query, query.kinds or None) if e.record.bin]
    bins = {e.record.bin for e in held}
    if len(bins) < 2:
        return query
    name = held[-1].record.bin
    return replace(
        query, bin=name, taken=(*query.taken, f"taken as {name}, the one with the latest of these records")
    )


def _by(reading: Reading) -> str:
    words = set(reading.heard.words)
    if words & {"month", "monthly"} and "monthly" in reading.cues:
        return "month"
    if words & {"week", "weekly"} and "weekly" in reading.cues:
        return "week"
    return (
        "tier" if words & {"tray", "trays", "tier", "tiers", "layer", "layers", "level", "levels"} else "bin"
    )


def _dated(query: Query, reading: Reading, lately: float) -> Query:
    coming = query.want == "next" or query.asks in COMING
    span = reading.heard.inside(reading.part.start, reading.part.stop) if len(reading.part) else (0, 0)
    found: list[Period] = periods(reading.heard.sketch, span, coming)
    if not found:
        if "lately" in reading.cues:
            today = reading.heard.sketch.now.date()
            return replace(query, first=today - timedelta(days=lately), last=today)
        return query
    first, last = found[0]
    if query.want in ADVISING and last and last >= reading.heard.sketch.now.date():
        return query
    if len(found) > 1 and query.want == "compare":
        both = tuple((a or date.min, b or date.max) for a, b in found[:2])
        return replace(query, periods=both)
    return replace(query, first=first, last=last)


def _detailed(query: Query, reading: Reading, facts: Facts) -> Query:
    """State, unit, limit, pick, amounts, and the item that the lexicon does not know."""
    held = reading.cues
    state: State = "done"
    if query.asks in ("plan",):
        state = "planned"
    elif query.asks in ("expected", "cametrue"):
        state = "expected"
    elif query.asks in ("ruledout", "skipped"):
        state = "ruled_out"
    pick = "ever" if "ever" in held and query.want == "yes_no" else ""
    pick = pick or next((one for one in ("most", "least", "first", "last") if one in held), "")
    unit, spoken = _unit(reading, facts)
    amounts = tuple(Amount(a.low, a.best, a.high, a.unit) for a in reading.heard.sketch.amounts if a.unit)
    items = query.items
    if not items and not reading.subject.everything and query.want in NAMING:
        items = unknown_item(
            reading.heard, facts, reading.part, reading.subject.words | reading.targets.words | spoken
        )
    query = replace(
        query, state=state, pick=pick, unit=unit, amounts=amounts, items=items, limit=_limit(reading)
    )
    return _levelled(_kinded(query, reading, facts), reading)


def _kinded(query: Query, reading: Reading, facts: Facts) -> Query:
    """The kinds, where the words leave them open."""
    kinds, items = query.kinds, query.items
    if not items and _tray_added(reading):
        return replace(query, kinds=("restack",), items=("tier",), tiers=(), asks="added")
    if items and not kinds and query.want in NAMING:
        topics = {thing.topic for item in items for thing in facts.terms.things.get(item, ())}
        return replace(
            query, kinds=_kinds_of(items, facts) or tuple(BY_TOPIC[t] for t in topics if t in BY_TOPIC)
        )
    if not items and set(kinds) >= PUTTING:
        return replace(query, kinds=("feed",))  # "put in", with nothing named, is the food
    if (
        not items
        and not kinds
        and query.want in ("total", "rate", "next")
        and query.asks in ("amount", "every", "per", "place")
    ):
        return replace(query, kinds=("feed",))
    if query.state in ("planned", "expected") and kinds == ("sighting",):
        return replace(query, kinds=())  # what is promised of worms is no sighting
    return query


def _tray_added(reading: Reading) -> bool:
    """ "Add the third tier": the tray is what was added, not where."""
    verbs = [m.end for m in reading.heard.sketch.layers.get("verb", ()) if m.value == "add"]
    trays = [p for p in reading.heard.sketch.places if p.tiers and not p.bin]
    return any(end <= p.start <= end + 1 for end in verbs for p in trays) and not reading.subject.topics


def _kinds_of(items: Sequence[str], facts: Facts) -> tuple[str, ...]:
    """The kinds in which the log speaks of an item that the lexicon does not know."""
    named = (kinds for item, kinds in facts.kinds_of_item.items() if facts.terms.like(item, items))
    return tuple(dict.fromkeys(kind for kinds in named for kind in kinds))


def _unit(reading: Reading, facts: Facts) -> tuple[str | None, set[int]]:
    """The unit in which an answer is asked for: "how many pounds", "in litres"; and its words."""
    words = reading.heard.words
    for hit in phrases(facts.lexicon, "units").longest(words):
        before = words[hit.start - 1] if hit.start else ""
        leads = ONE_OF if "charge" in reading.cues else UNIT_LEADS
        if before in leads and hit.start in reading.part:
            return hit.row["unit"], set(range(hit.start, hit.end))
    return None, set()


def _limit(reading: Reading) -> int:
    """ "The last three feedings": 3; 0 where no number is said."""
    words, sketch = reading.heard.words, reading.heard.sketch
    for amount in sketch.amounts:
        if amount.unit not in (None, "piece"):
            continue
        covered = sorted(reading.heard.covered([(amount.start, amount.end)]))
        if (
            covered
            and covered[0]
            and words[covered[0] - 1] in ("last", "latest", "past", "previous", "first", "recent")
        ):
            return int(amount.best)
    return 0


def _levelled(query: Query, reading: Reading) -> Query:
    """ "When was it last too wet": only looks that showed it so."""
    levels = reading.subject.levels
    kinds = set(query.kinds)
    if query.want in ("last", "first", "count") and kinds == {"sighting"} and query.items:
        return query
    if "moisture" in kinds and levels and query.want in ("last", "first", "count", "yes_no"):
        bounds = WET if levels[0] >= WET[0] else DRY if levels[0] <= DRY[1] else (3.0, 3.0)
        return replace(query, level=bounds)
    if "progress" in kinds and query.want in ("last", "first") and levels:
        return replace(query, level=(levels[0], 1.0))
    return query


def topic_of(words: Sequence[str], facts: Facts, table: str) -> str:
    """The form of the row of a table whose phrase, the longest, is in the words; else empty."""
    found = phrases(facts.lexicon, table).all(words)
    best = max(found, key=lambda one: (one.end - one.start, one.start), default=None)
    return best.row["form"] if best else ""


def _topical(query: Query, reading: Reading, facts: Facts) -> Query:
    """The row of the glossary or of the advice that a question is about."""
    words = reading.heard.words
    if query.want == "explain" and query.asks != "why":
        if query.asks == "story":
            return replace(query, topic="story")
        return replace(query, topic=topic_of(words, facts, "glossary") or topic_of(words, facts, "advice"))
    if query.want in ("advise", "explain") or query.asks == "whatif":
        own = {"use", "using", "used"} & set(words) or {"did", "i"} <= set(words)
        pick = "record" if query.asks == "why" and own and query.items else query.pick
        topic = topic_of(words, facts, "advice")
        topic = topic or topic_of(" ".join((*query.items, *query.kinds)).split(), facts, "advice")
        if query.asks == "whatif" and not topic:
            topic = topic_of(words, facts, "glossary")
        pick = "double" if "double" in reading.cues else pick
        return replace(query, topic=topic, pick=pick)
    if query.want == "mix" and {"carbon", "ratio", "nitrogen", "cn", "c"} & set(words):
        return replace(query, topic="c_to_n")
    if query.want == "rate":
        per = next((one for one in ("day", "week", "month") if {one, one + "ly"} & set(words)), "week")
        return replace(query, topic=per)
    return query


__all__ = ["Reading", "Spot", "cues", "read", "topic_of", "understand"]
