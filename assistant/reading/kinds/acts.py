"""What was done: a verb's act and the topic of the thing it takes give the kind (words/acts.csv)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.items import Items
from assistant.reading.sketch import Item, Mention
from assistant.records import Amount

_NEGATIONS = frozenset(("not", "n't", "nt", "dont", "didnt", "never", "no", "without", "nor", "neither", "cannot"))
_DEFAULT = {"food": "feed", "bedding": "bed", "amendment": "amend", "water": "water", "treatment": "treat", "unknown": "feed"}
_SPRAYS = frozenset(("spray",))
_VOLUMES = frozenset("cup pint quart gallon litre ml tbsp tsp fl_oz bucket scoop".split())
_MASSES = frozenset("lb oz g kg ton tonne".split())
_BARE_ACTS = {"pour": "water", "water": "water", "turn": "turn", "mix": "turn", "drain": "drain", "harvest": "harvest", "sieve": "harvest", "limed": "amend", "feed": "feed"}


def governing(c: Context, item: Item) -> Mention | None:
    """The verb that takes the item: the nearest before it in the clause, else the first after it."""
    verbs = [v for v in c.here("verb") if v.value not in ("smell", "other")]
    before = [v for v in verbs if v.start < item.start and v.start not in range(item.start, item.end)]
    if before:
        return before[-1]
    after = [v for v in verbs if v.start >= item.end]
    return after[0] if after else None


def act_of(c: Context, verb: Mention) -> str:
    """The verb's act, turned by a particle that stands later: "took ... out" is a taking out."""
    particles: dict[str, str] = c.vocabulary.particles
    for i in range(verb.end, min(verb.end + 9, c.clause.end)):
        if i > verb.end and c.words[i] in ("to", "and", "which", "let", ",", "came"):
            break
        changed = particles.get(f"{verb.value} {c.words[i]}")
        if changed is None:
            continue
        after = c.word(i + 1)
        hangs = i == verb.end or i + 1 >= c.clause.end or not (c.vocabulary.role(after, "det") or after.isdigit()) or c.words[i] in ("back", "out", "off")
        if hangs and not any(v.start > verb.start and v.start <= i for v in c.here("verb")):
            return changed
    return str(verb.value)


def denied(c: Context, position: int, floor: int | None = None) -> bool:
    """Whether a negation stands before `position` in its clause, near enough to hold it."""
    start = c.clause.start if floor is None else floor
    near = range(max(start, position - 6), position)
    against = any(c.words[i] == "against" and c.word(i - 1).startswith("decid") for i in near)
    return against or any(c.words[i] in _NEGATIONS and c.word(i + 1) not in _NOT_REALLY and not _self_repair(c, i) for i in near)


_NOT_REALLY = frozenset("know sure mind think only just remember wait".split())


def _self_repair(c: Context, i: int) -> bool:
    """ "two handfuls, no, three": this "no" takes a figure back, it denies nothing."""
    return c.words[i] in ("no", "not") and any(a.start == i + 1 for a in c.amounts) and (i == c.clause.start or any(a.end <= i for a in c.amounts))


def acts(c: Context) -> Iterator[Draft]:
    """Drafts for the things that the clause's verbs take, and for verbs that need no thing."""
    done: set[int] = set()
    for item in c.free():
        if (item.amount is None or c.word(item.amount.start) in ("a", "an") and item.amount.unit is None) and _aside(c, item):
            continue
        verb = governing(c, item)
        if verb is not None and _not_the_keeper(c, verb):
            continue
        draft = _with_verb(c, item, verb) if verb else _without_verb(c, item)
        if draft is None and verb and verb.end <= item.start and "," in c.words[verb.end : item.start]:
            draft, verb = _without_verb(c, item), None
        if draft is None:
            continue
        if verb:
            done.add(verb.start)
        c.taken.add(item.start)
        yield draft
    yield from _light(c, done)
    for verb in c.here("verb"):
        if verb.start not in done:
            yield from _bare(c, verb, done)


_GIVERS = frozenset("give gave giving gives given did do doing had have need needs got get".split())
_LIGHT = {"turn": "turn", "water": "water", "harvest": "harvest", "refresh": "refresh", "feed": "feed"}


def _light(c: Context, done: set[int]) -> Iterator[Draft]:
    """ "gave it a good stir", "give that one a turn", "did the big harvest": the noun carries the act."""
    for m in c.here("light"):
        floor = max(c.clause.start, m.start - 7)
        giver = next((i for i in range(m.start - 1, floor - 1, -1) if c.words[i] in _GIVERS), None)
        after = next((a for a in c.unused() if a.unit and c.vocabulary.role(c.word(m.end), "copula") and 0 < a.start - m.end <= 2), None)
        if m.value == "harvest" and after is not None:
            c.use(after)
            yield Draft("harvest", m.start, after.end, c.clause, item="castings", amount=quantity(after))
            return
        if giver is not None and c.words[giver] in ("get", "got", "have", "had") and c.word(giver - 1) == "they":
            continue
        if giver is None or not c.vocabulary.role(c.word(m.start - 1), "det") and c.word(m.start - 1) not in ("good", "quick", "little", "big", "light", "full", "gentle", "proper", "bit"):
            continue
        if m.value == "water" and any(i.start >= m.end and i.topic != "water" for i in c.items) or any(v.start == m.start for v in c.here("verb")):
            continue
        if m.value == "feed" and (c.items or not denied(c, m.start)):
            continue
        kind = _LIGHT[m.value]
        draft = Draft(kind, giver, m.end, c.clause, item={"water": "water", "harvest": "castings"}.get(kind))
        if denied(c, giver) or c.word(m.start - 1) == "no":
            draft.state = "ruled_out"
        elif kind in ("water", "harvest"):
            span = next((a for a in c.unused() if a.unit and 0 <= abs(a.start - m.end) <= 4), None)
            if span:
                c.use(span)
                draft.amount = quantity(span)
        done.update(v.start for v in c.here("verb") if giver <= v.start < m.end)
        yield draft
        return


_ASIDE = frozenset("to like for as off from under on in into of around near by at inside below through against beside behind".split())
_PARTS = frozenset("smell inside edge top bottom side corner out instead because full front back middle end rid".split())
_TRADES = frozenset("sell buy pickup giveaway give take takeout takeoff kill pick drain empty harvest yield water worms move".split())
_GETTING = frozenset("get have went yield back eat".split())


def _aside(c: Context, item: Item) -> bool:
    """Whether a thing hangs on a preposition, so that it is a place or a purpose and not what was put in."""
    i = (item.amount.start if item.amount and item.amount.start < item.start else item.start) - 1
    while i > c.clause.start and (c.vocabulary.role(c.words[i], "det") or c.finder.plain(i)) and item.start - i < 5:
        i -= 1
    word = c.words[i] if i >= c.clause.start else ""
    if word in ("in", "with", "under", "into") and any(v.value in ("cover", "add", "bed", "start", "replace", "refresh") and v.end <= i for v in c.here("verb")) and set(item.topics) & {"cover", "bedding"}:
        return False
    if word == "of" and (any(a.end in (i, i + 1) for a in c.amounts) or c.word(i - 1) not in _PARTS and "cover" not in item.topics):
        return False
    return word in _ASIDE and not any(v.end == i + 1 for v in c.here("verb"))


def _not_the_keeper(c: Context, verb: Mention) -> bool:
    """Whether somebody or something else does what the verb says: "they are feeding on the rind"."""
    if verb.value in _GETTING or act_of(c, verb) in _GETTING:
        return False
    i = verb.start - 1
    while i >= c.clause.start and c.vocabulary.role(c.words[i], "copula", "aux", "adverb", "negation"):
        i -= 1
    if i < c.clause.start or i == verb.start - 1 and not c.words[i] in ("they", "it"):
        return False
    if c.words[i] in ("they", "it", "who", "which", "that"):
        return True
    return any(x.end == i + 1 and x.topic in ("worms", "organism") for x in c.items)


def _with_verb(c: Context, item: Item, verb: Mention) -> Draft | None:
    act = act_of(c, verb)
    if act == "prepare" and item.start - verb.end > 6:
        act = "other"
    kind, topic = _kind(c, act, item)
    if kind is None and item.amount is not None and item.topic in _DEFAULT and act not in _TRADES:
        if act in ("see", "check", "count", "eat", "have", "leave", "die", "need", "collect") and item.topic != "bedding":
            return None
        kind, topic = _DEFAULT[item.topic], item.topic
    if kind is None:
        return None
    if kind == "prepare" and "food" in item.topics and c.words[item.end : item.end + 2] in (["for", "them"], ["for", "the"]) and (c.word(item.end + 1) == "them" or c.word(item.end + 2) == "worms"):
        kind = "feed"
    if act == "prepare" and not _stocked(c, verb, item):
        return _default(c, item)
    if kind == "omit":
        return _draft(c, _DEFAULT.get(topic, "feed"), item, verb, "ruled_out", named=True)
    if act in ("takeout", "take", "takeoff", "get") and kind == "remove" and c.word((item.amount or item).start - 1) in ("w/", "w", "with"):
        return _default(c, item)
    if c.clause.stance == "planned" and act == "get" and topic in ("bedding", "amendment", "cover", "treatment", "food") and c.word(verb.start - 1) in ("should", "to", "must", "i", "ta", "gotta"):
        kind = "buy"
    if act == "have" and c.words[verb.start] == "had" and not c.clause.places and c.word(verb.start - 1) in ("i", "we"):
        return None
    if act == "give" and topic in ("castings", "leachate") and c.word(verb.end) in ("me", "us"):
        kind = "harvest" if topic == "castings" else "drain"
    if act == "give" and topic == "castings" and any(p.end == verb.start for p in c.clause.places):
        kind = "harvest"
    if kind == "sell" and c.word(verb.end) in ("me", "us"):
        kind = "buy"
    if act in ("add", "feed", "mix", "mixin") and item.amount is None and _known_already(c, item):
        return None
    if act in ("have", "get") and item.amount is None and item.topic != "organism":
        return None if act == "have" or not (c.clause.places or denied(c, item.start)) else _draft(c, kind, item, verb)
    if topic == "cover" and kind == "cover":
        return _cover(c, item, verb, act)
    if act == "give" and topic == "worms" and item.amount is None and any(o.start > item.end for o in c.items):
        return None
    if kind in ("worms_removed", "worms_added") and item.amount is None and not c.clause.places:
        return None
    if kind in ("give", "sell", "buy") and act == "give" and _to_bin(c, verb):
        kind = "worms_added" if topic == "worms" else "move"
    return _draft(c, kind, item, verb)


def _known_already(c: Context, item: Item) -> bool:
    """ "I'll tuck the food in the corner": the food is the one just told of, not another."""
    generic = bool(item.things) and item.things[0].klass == "mixed"
    return generic and c.word(item.start - 1) in ("the", "that", "this", "it") and any(d.kind in ("feed", "bed") for d in c.drafts[-3:])


def _kind(c: Context, act: str, item: Item) -> tuple[str | None, str]:
    topics = item.topics if act != "feed" else tuple(sorted(item.topics, key=lambda t: t != "food"))
    for topic in topics:
        kind = c.vocabulary.kind(act, topic)
        if kind:
            return kind, topic
    return None, item.topic


def _stocked(c: Context, verb: Mention, item: Item) -> bool:
    """Whether a preparing ("froze", "shredded") is told for itself: a subject or nothing before, and not as an adjective."""
    if verb.start == c.clause.start or c.vocabulary.role(c.word(verb.start - 1), "subject", "aux", "adverb", "copula") or c.word(verb.start - 1) in ("and", "to", "'ve", "'m", "'d", ","):
        return True
    return any(d.end == verb.start for d in c.clause.days) or c.word(verb.start - 1) in (":", "-", "some", "i")


def _to_bin(c: Context, verb: Mention) -> bool:
    return any(p.start - verb.end <= 2 and p.start >= verb.end for p in c.clause.places)


def _cover(c: Context, item: Item, verb: Mention, act: str) -> Draft | None:
    off = act in ("uncover", "prop", "takeoff", "takeout", "take", "lift") or (act in ("add", "leave", "went") and c.word(item.end) in ("off", "aside"))
    if act in ("lift", "take") and act == "lift":
        return None
    if act == "leave" and c.word(item.end) not in ("off", "open", "ajar", "cracked") and c.word(verb.end) != "off":
        return None
    draft = _draft(c, "cover", item, verb)
    draft.level = 0.0 if off or act == "leave" else 1.0
    draft.whole = _lid(item)
    if off and denied(c, verb.start):
        return None
    return draft


def _lid(item: Item) -> bool:
    return bool(item.things) and item.things[0].klass in ("lid", "wrap", "outer", "frame", "net") or item.name in ("lid", "bubble wrap")


def _draft(c: Context, kind: str, item: Item, verb: Mention | None, state: str = "done", named: bool = False) -> Draft:
    """A draft of `kind` for an item; a negation before the verb or the item makes it ruled out."""
    start, end = item.start, item.end
    if item.amount is not None:
        start, end = min(start, item.amount.start), max(end, item.amount.end)
    if verb is not None and abs(verb.start - start) <= 6:
        start, end = min(start, verb.start), max(end, verb.end)
    if verb is not None and verb.start > item.start and denied(c, verb.start, item.end):
        state = "ruled_out"
    negated = denied(c, item.start) if verb is None or verb.start > item.start else denied(c, verb.start) or denied(c, item.start, verb.end)
    if negated or state == "ruled_out":
        state = "ruled_out"
    if kind == "feed" and any(c.words[i : i + 2] in (["as", "bedding"], ["for", "bedding"]) for i in range(item.end, min(item.end + 5, c.clause.end))):
        kind = "bed"
    if kind in ("feed", "bed") and _baiting(c, item):
        kind = "treat"
    draft = Draft(kind, start, end, c.clause, item=_name(c, kind, item), amount=_amount(c, kind, item), doubts=item.doubts)
    draft.state = state  # type: ignore[assignment]
    if state == "ruled_out":
        draft.amount = None
        if item.things and item.things[0].klass == "mixed" and kind in ("feed", "bed"):
            draft.item = None
    if kind == "cover":
        draft.level = 1.0
    if kind == "move":
        _ends(c, draft, verb)
    if item.share > 1 and draft.amount:
        draft.doubts = (*draft.doubts, "one amount was said for several things: shared out evenly")
    return draft


def _ends(c: Context, draft: Draft, verb: Mention | None) -> None:
    """Where a move leads from and to."""
    source = next((p for p in c.clause.places if p.after in ("from", "off", "out")), None)
    goal = next((p for p in c.clause.places if p is not source and (verb is None or p.start > verb.start)), None)
    if goal is not None:
        draft.to_tier = c.sketch.walk.targets(goal)[0][1]
    if source is not None:
        draft.where = c.sketch.walk.targets(source)
    elif goal is not None and c.index:
        before = c.sketch.clauses[c.index - 1].where[0]
        draft.where = ((before[0], before[1] if before[1] != draft.to_tier else None),)


def _baiting(c: Context, item: Item) -> bool:
    """ "laid a melon slice in there for a trap": the food is a bait."""
    rest = c.words[item.end : min(item.end + 8, c.clause.end)]
    return bool({"trap", "bait", "lure"} & set(rest)) and bool({"for", "as", "to"} & set(rest))


def _name(c: Context, kind: str, item: Item) -> str | None:
    if kind in ("water",):
        return "water"
    if kind == "drain":
        return "leachate"
    if kind == "harvest":
        return "castings"
    return item.name


def _amount(c: Context, kind: str, item: Item) -> Amount | None:
    span = item.amount
    if span is None:
        return None
    if kind in ("water", "drain") and span.unit == "oz":
        return quantity(span, item.share, "fl_oz")
    return quantity(span, item.share)


def _without_verb(c: Context, item: Item) -> Draft | None:
    """A thing with no verb at all: put in, where an amount is said; denied, where "no" stands before it."""
    if item.topic == "cover" and (c.word(item.end) in ("on", "over", "off", "back", "round", "around", "across") or c.word(item.start - 1) in ("under", "over")):
        if c.word(item.start - 1) == "with" or item.things[0].klass == "lid" and c.word(item.end) != "off":
            return None
        draft = _draft(c, "cover", item, None)
        draft.level = 0.0 if c.word(item.end) == "off" else 1.0
        draft.whole = _lid(item)
        return draft
    if item.topic in ("treatment", "bedding", "amendment", "cover") and item.amount is None and _in_there(c, item):
        return _draft(c, _DEFAULT.get(item.topic, "cover"), item, None)
    return _default(c, item)


def _in_there(c: Context, item: Item) -> bool:
    """ "a jar trap's in there now"."""
    copula = c.vocabulary.role(c.word(item.end), "copula")
    after = item.end + 1 + (c.word(item.end + 1) in ("sitting", "hanging", "going"))
    if after > item.end + 1 and copula and c.word(after) in ("in", "on", "over"):
        return True
    return copula and c.word(item.end + 1) in ("in", "on", "over", "up", "down", "round", "around") and c.word(item.end + 2) in ("there", "it", "top", "now", "place", "")


def _default(c: Context, item: Item) -> Draft | None:
    kind = next((_DEFAULT[t] for t in item.topics if t in _DEFAULT), None)
    if item.topic == "castings" and item.amount is not None and item.amount.unit not in (None, "inch", "cm"):
        return _draft(c, "harvest", item, None)
    if kind is None or item.topic in ("castings", "leachate", "worms"):
        return None
    if item.things and item.things[0].name == "bedding" and item.amount and item.amount.unit is None:
        return None
    no = _no_before(c, item)
    if no:
        draft = _draft(c, kind, item, None, "ruled_out")
        draft.start = min(draft.start, no[0])
        return draft
    if item.amount is None and not _listed(c, item) and not _heads_a_list(c, item):
        return None
    if item.topic == "treatment" and (item.amount is None or c.word(item.amount.start) in ("a", "an")) and c.word(item.end) not in ("on", "up", "in", "round", "around", "under", "set", "at", "inside"):
        return None
    return _draft(c, kind, item, None)


def _no_before(c: Context, item: Item) -> tuple[int, int] | None:
    for i in range(max(c.clause.start, item.start - 4), item.start):
        if any(m.start <= i < m.end for layer in ("smell", "moisture") for m in c.here(layer)):
            continue
        if (c.words[i] in ("no", "without", "zero") or c.words[i] == "not" and c.word(i + 1) in ("one", "a", "any", "single")) and _bare_between(c, i + 1, item.start):
            return i, item.end
    return None


def _heads_a_list(c: Context, item: Item) -> bool:
    """ "bell pepper cores and half a bag of spinach": joined to a thing with an amount behind it."""
    after = next((o for o in c.items if o.start >= item.end), None)
    if after is None or after.amount is None or c.here("verb") or set(after.topics).isdisjoint(item.topics):
        return False
    begin = min(after.start, after.amount.start)
    return c.words[item.end : begin] in (["and"], ["+"], ["&"], [","], ["plus"], [",", "and"])


def _bare_between(c: Context, start: int, end: int) -> bool:
    """Whether only words like "more" and "any" stand between a denial and its thing."""
    if any(c.sketch.within(layer, start, end) for layer in ("verb", "smell", "moisture", "thing")):
        return False
    return end - start <= 3 and not any(c.vocabulary.role(w, "copula", "subject", "aux") for w in c.words[start:end])


def _listed(c: Context, item: Item) -> bool:
    """ "6 corn cobs + silk": joined to a thing that was put in."""
    if item.topic == "bedding" and any(d.kind in ("refresh", "start") and d.clause.start >= c.sketch.clauses[max(0, c.index - 1)].start for d in c.drafts[-3:]):
        return c.word(item.start - 1) != "old"  # a refresh that names its new bedding (contract 5.24)
    before = [d for d in c.drafts if d.clause is c.clause and d.kind in ("feed", "bed", "amend", "treat") and d.state == "done"]
    gap = c.words[before[-1].end : item.start] if before and before[-1].end <= item.start else ["-"] * 9
    return len(gap) <= 4 and bool({"+", "and", "&", "plus", "with", ","} & set(gap))


def _bare(c: Context, verb: Mention, done: set[int]) -> Iterator[Draft]:
    """A verb with no thing: "misted it three sprays", "turned it", "drained 300 ml off the tap"."""
    act = act_of(c, verb)
    kind = _BARE_ACTS.get(act)
    if kind is None:
        if act in ("add", "give", "pour", "mixin", "scoop") and (antecedent := _gap(c, verb)):
            yield antecedent
            return
        if act in ("add", "cover", "mixin", "went", "back") and _put_in(c, verb):
            return
        if act == "takeoff" and not c.items and (off := _uncovered(c, verb)):
            yield off
            return
        if act == "prepare" and (made := _made_ready(c, verb)):
            yield made
            return
        if act in ("takeout", "kill", "takeoff", "pickup") and (thrown := _thrown_out(c, verb)):
            yield thrown
            return
        if act in ("take", "takeout", "get", "scoop", "collect", "takeoff", "empty", "yield", "weigh") and not _in_use(c):
            yield from _taken_out(c, verb)
        return
    if verb.start in c.clause.used or _as_adjective(c, verb) or _not_the_keeper(c, verb):
        return
    if act == "pour" and not any(a.unit in _VOLUMES for a in c.unused()):
        return
    found = _liquid_before(c) if kind == "drain" else None
    if kind == "drain" and verb.value != "drain" and not _liquid(c) and found is None:
        return
    if kind == "feed" and not denied(c, verb.start) and (antecedent := _gap(c, verb)):
        yield antecedent
        return
    amount = _free_amount(c, verb, kind) or (found.amount if found else None)
    negated = denied(c, verb.start) or c.word(verb.end) == "neither"
    if kind == "turn" and verb.value in ("turn", "mix") and verb.end - verb.start == 1 and not _turned(c, verb):
        return
    if kind == "feed" and c.word(verb.end) in _POINTING and c.word(verb.end + 1) == "to":
        return
    if kind == "turn" and (_object(c, verb) == "page" or c.word(verb.end) in ("out", "into", "up", "brown", "black", "sour", "on", "off", "ripped")):
        return
    if kind == "feed" and not negated and not _object(c, verb) and not c.clause.places:
        return
    if kind == "feed" and not negated and (c.words[verb.start] in ("feeding", "feed") and c.word(verb.start - 1) in ("been", "be", "and", "was") or c.word(verb.end) in ("on", "nobody", "nothing", "up", "off")):
        return
    if kind == "feed" and not negated and c.word(verb.start - 1) in ("the", "last", "a", "next", "this"):
        return
    if kind == "harvest" and act == "sieve" and amount is None and not c.clause.places and _object(c, verb) not in ("it", "them"):
        return
    draft = Draft(kind, verb.start, verb.end, c.clause, item={"water": "water", "drain": "leachate", "harvest": "castings", "amend": "lime"}.get(kind))
    if negated:
        draft.state = "ruled_out"
    elif amount is not None:
        c.use(amount)
        draft.amount = quantity(amount, unit="fl_oz" if amount.unit == "oz" and kind in ("water", "drain") else None)
        draft.start, draft.end = min(draft.start, amount.start), max(draft.end, amount.end)
    done.add(verb.start)
    yield draft


def _gap(c: Context, verb: Mention) -> Draft | None:
    """ "that grain | I put in Thursday": the thing stands at the end of the clause before, said of nothing yet."""
    if c.index == 0 or c.items or not c.vocabulary.role(c.word(verb.start - 1), "subject"):
        return None
    before = c.sketch.clauses[c.index - 1]
    if c.clause.start - before.end > 0 or before.stance != "done" or c.word(verb.end) in ("it", "them", "that", "those", "this", "em"):
        return None
    things = [m for m in c.sketch.within("thing", before.start, before.end) if m.end == before.end]
    if not things or any(d.clause is before and d.end == before.end for d in c.drafts):
        return None
    item = c.finder.of(before, [], False)[-1]
    kind, _ = _kind(c, act_of(c, verb), item)
    if kind is None:
        return None
    draft = _draft(c, kind, item, None)
    draft.end, draft.state = verb.end, "done"
    return draft


def _made_ready(c: Context, verb: Mention) -> Draft | None:
    """ "tomorrow I gotta rip up some boxes": what is made ready, known to the lexicon or not."""
    if denied(c, verb.start) or any(i.start >= verb.end for i in c.items) or not (c.vocabulary.role(c.word(verb.start - 1), "subject", "aux", "adverb") or c.word(verb.start - 1) in ("to", "ta", "na", "will")):
        return None
    i = verb.end + (c.word(verb.end) in ("up", "down"))
    while i < c.clause.end and (c.vocabulary.role(c.words[i], "det") or c.words[i] in ("more", "old")):
        i += 1
    j = i
    while j < min(i + 3, c.clause.end) and c.finder.plain(j):
        j += 1
    if i == verb.end or j == i:
        return None
    name = " ".join(c.words[i:j])
    return Draft("prepare", verb.start, j, c.clause, item=name, doubts=(f"'{name}' is not in the lexicon",))


def _uncovered(c: Context, verb: Mention) -> Draft | None:
    """ "took the sack off": what is taken off a bin is a cover, known or not."""
    i = verb.end
    while i < c.clause.end and c.vocabulary.role(c.words[i], "det"):
        i += 1
    j = i
    while j < c.clause.end and c.finder.plain(j) and c.words[j] not in ("off", "tray"):
        j += 1
    if i == verb.end or j == i or c.word(j) != "off" or c.word(j + 1) not in ("", ".", "and", "again", "today"):
        return None
    name = " ".join(c.words[i:j])
    return Draft("cover", verb.start, j + 1, c.clause, item=name, level=0.0, doubts=(f"'{name}' is not in the lexicon",))


def _thrown_out(c: Context, verb: Mention) -> Draft | None:
    """ "so I yanked it", "picked those out": the creature or food seen just before is taken out for good."""
    if denied(c, verb.start) or not any(w in _POINTING for w in c.words[verb.end : verb.end + 4]) and not any(w in _POINTING for w in c.words[verb.start : verb.end]):
        return None
    here = [i for i in c.free() if i.end <= verb.start and "food" in i.topics]
    if here and c.word(verb.end) == "it":
        return Draft("remove", here[-1].start, verb.end + 1, c.clause, item=here[-1].name)
    seen = [d for d in c.drafts if d.kind in ("sighting", "leftover") and d.state == "done" and d.level != 0 and d.item]
    if not seen or c.index and seen[-1].clause.start < c.sketch.clauses[max(0, c.index - 3)].start:
        return None
    last = seen[-1]
    if last.item in ("worms", "cocoons", "juvenile worms"):
        return None
    return Draft("remove", verb.start, verb.end + 1, c.clause, item=last.item, amount=last.amount, where=last.where)


_POINTING = frozenset("it them those that him em 'em these".split())


_LIQUID = frozenset("tap spigot sump reservoir pan tray liquid juice drain leachate base collector valve tea bottom".split())


def _liquid(c: Context) -> bool:
    """Whether the clause speaks of a liquid or of where it gathers."""
    return c.has(_LIQUID) or any(a.unit in _VOLUMES | {"oz", "fl_oz"} for a in c.amounts)


def _liquid_before(c: Context) -> Item | None:
    """ "there's half a cup of liquid in it | so I'm pouring that off"."""
    if c.index == 0:
        return None
    before = c.sketch.clauses[c.index - 1]
    spans = [a for a in c.sketch.amounts if before.start <= a.start < before.end]
    found = [i for i in c.finder.of(before, spans, False) if "leachate" in i.topics]
    return found[-1] if found else None


def _put_in(c: Context, verb: Mention) -> bool:
    """ "ripped up two sacks and laid them on top": what was made ready went in after all."""
    last = c.drafts[-1] if c.drafts else None
    pointing = any(w in _POINTING for w in c.words[verb.end : verb.end + 2])
    if last is None or last.kind != "prepare" or not pointing or denied(c, verb.start) or last.clause.start < c.sketch.clauses[max(0, c.index - 2)].start:
        return False
    kinds = {t: k for t, k in _DEFAULT.items()}
    things = [m for m in c.sketch.within("thing", last.start, last.end + 1)]
    topics = [c.vocabulary.topic(t) for m in things for t in m.value]
    last.kind = next((kinds[t] for t in ("bedding", "food", "amendment") if t in topics), "feed")
    return True


def _in_use(c: Context) -> bool:
    return any(i.topic in ("food", "worms", "organism", "cover") for i in c.items)


def _as_adjective(c: Context, verb: Mention) -> bool:
    return any(i.start == verb.end for i in c.items) and c.words[verb.start].endswith("ed") and c.vocabulary.role(c.word(verb.start - 1), "det", "prep")


def _turned(c: Context, verb: Mention) -> bool:
    """Whether something of the bin is turned: it, the tray, the whole lot, or nothing more is said."""
    after = c.word(verb.end) if verb.end < c.clause.end else ""
    known = c.vocabulary.role(after, "det", "object", "filler") or after in ("it", "them", "that", "this", "everything", "with", "all", "both", "over", "through", "well", "gently", "up", "those", "these")
    return not after or known or not after.isalpha() or any(p.start == verb.end for p in c.clause.places) or any(p.end == verb.start for p in c.clause.places) and after in ("by", "today", "again")


def _object(c: Context, verb: Mention) -> str:
    after = c.word(verb.end) if verb.end < c.clause.end else ""
    return after if after in ("it", "them", "em", "'em", "everything", "both", "this", "that", "page", "these") else ""


def _free_amount(c: Context, verb: Mention, kind: str):  # type: ignore[no-untyped-def]
    for span in c.unused():
        if kind == "water" and c.word(span.end) == "times" and span.unit is None:
            return replace(span, unit="spray")
        if kind == "turn" or (kind == "feed" and span.unit is None):
            return None
        if span.unit is None or abs(span.start - verb.end) > 12:
            continue
        if kind == "water" and span.unit in _MASSES:
            continue
        if span.unit in ("percent", "degF", "degC", "degree", "inch", "cm", "min"):
            continue
        return span
    return None


def _taken_out(c: Context, verb: Mention) -> Iterator[Draft]:
    """ "got ~3 qt out of it", "pulled five cups": a measure taken out with nothing named is castings."""
    for span in c.unused():
        if span.unit in _VOLUMES | _MASSES and 0 <= span.start - verb.end <= 8:
            out = c.has(frozenset("out off from sieve screen fine finished sifted".split()), verb.start) or verb.value in ("take", "yield", "collect")
            if not out:
                return
            c.use(span)
            state = "ruled_out" if denied(c, verb.start) else "done"
            before = c.sketch.clauses[c.index - 1] if c.index else c.clause
            if span.unit in _VOLUMES and any(c.vocabulary.topic(t) == "leachate" for m in c.sketch.within("thing", before.start, before.end) for t in m.value):
                yield Draft("drain", verb.start, span.end, c.clause, state=state, item="leachate", amount=quantity(span))  # type: ignore[arg-type]
                return
            yield Draft("harvest", verb.start, span.end, c.clause, state=state, item="castings", amount=quantity(span), doubts=("nothing was named: taken as castings",))  # type: ignore[arg-type]
            return


def drained(c: Context) -> Iterator[Draft]:
    """Liquid out of a tap or found in a sump, with no verb for it: "400 ml out the tap"."""
    if not c.has(_SUMP) or c.here("verb") and not any(v.value in ("have", "get", "yield", "drain", "pour", "empty", "collect") for v in c.here("verb")):
        return
    sump = next(i for i in range(c.clause.start, c.clause.end) if c.words[i] in _SUMP)
    spans = [*c.unused(), *(i.amount for i in c.items if i.amount and "leachate" in i.topics and i.start not in c.taken)]
    for span in sorted(spans, key=lambda a: abs(a.start - sump)):
        if span.unit in _VOLUMES | {"oz", "fl_oz"} and span.unit not in ("bucket", "scoop"):
            c.use(span)
            c.taken.update(i.start for i in c.items if i.amount is span)
            yield Draft("drain", span.start, span.end, c.clause, item="leachate", amount=quantity(span, unit="fl_oz" if span.unit == "oz" else None))
            return


_SUMP = frozenset("tap spigot sump reservoir valve spout collector catch".split())


def traded(c: Context) -> Iterator[Draft]:
    """ "sold one bucket to Dale for $15", "gave three to the school": what was traded is what was spoken of."""
    for verb in c.here("verb"):
        kind = {"sell": "sell", "giveaway": "give", "give": "give"}.get(act_of(c, verb))
        if kind is None or c.free() or denied(c, verb.start):
            continue
        last = next((d for d in reversed(c.drafts[-4:]) if d.kind in ("harvest", "worms_removed", "drain")), None)
        span = next((a for a in c.unused() if 0 <= a.start - verb.end <= 4 and not a.currency), None)
        if span is None and kind == "give" and last is not None and c.word(verb.end) in _POINTING and c.word(verb.end + 1) == "to":
            yield Draft(kind, verb.start, verb.end + 2, c.clause, item=last.item, amount=last.amount)
            return
        person = span is not None and 0 < span.start - verb.end <= 2 and all(c.finder.plain(i) for i in range(verb.end, span.start))
        if span is None or kind == "give" and (last is None or not (person and span.unit) and "to" not in c.words[span.end : span.end + 2]):
            continue
        amount = quantity(span)
        if amount and amount.unit == "piece" and last and last.amount:
            amount = quantity(span, unit=last.amount.unit)
        c.use(span)
        doubt = () if last else ("what was sold is not said: taken as castings",)
        yield Draft(kind, verb.start, span.end, c.clause, item=last.item if last else "castings", amount=amount, doubts=doubt)
        return


_TO_IT = frozenset("it them em 'em that one this another a about maybe only just".split())


def more_of_it(c: Context) -> Iterator[Draft]:
    """ "they got another two handfuls": more of the food just spoken of."""
    verb = next((v for v in c.here("verb") if v.value in ("get", "give", "feed")), None)
    if verb is not None and (c.words[verb.end : verb.end + 2] == ["no", "more"] or c.word(verb.end) == "nothing") and not c.items:
        yield Draft("feed", verb.start, verb.end + 2, c.clause, state="ruled_out")
        return
    if verb is None or any(i.end <= verb.end + 4 for i in c.items):
        return
    for span in c.unused():
        if span.unit in (None, "percent", "degree", "degF", "degC", "inch", "cm", "min", "spray", "pH") or span.start - verb.end > 3 or span.currency or c.word(span.end) == "of":
            continue
        if any(w not in _TO_IT for w in c.words[verb.end : span.start]):
            return
        last = next((d for d in reversed(c.drafts[-6:]) if d.kind in ("leftover", "feed", "bed") and d.item), None)
        if last is None:
            return
        c.use(span)
        kind = "bed" if last.kind == "bed" else "feed"
        yield Draft(kind, verb.start, span.end, c.clause, item=last.item, amount=quantity(span), state="ruled_out" if denied(c, verb.start) else "done", doubts=("what it was is taken from before",))
        return


_HOSES = frozenset("hose barrel tank watering tap rain sprayer".split())


def emptied(c: Context) -> Iterator[Draft]:
    """A tray emptied or pulled is a harvest; litres "with the hose" are water."""
    for verb in c.here("verb"):
        if verb.start in c.clause.used or denied(c, verb.start):
            continue
        act = act_of(c, verb)
        pointing = any(w in _POINTING | {"tray", "one"} for w in c.words[verb.end : verb.end + 4]) or c.word(verb.start - 1) in ("got", "gets", "be", "was")
        ready = any(d.kind == "progress" and (d.level or 0) >= 0.75 for d in c.drafts[-2:])
        loose = [i for i in c.free() if not _aside(c, i)]
        if act == "empty" and c.has(_SUMP | {"pan", "drip"}) and not loose:
            span = next((a for a in c.unused() if a.unit in _VOLUMES), None)
            if span:
                c.use(span)
            yield Draft("drain", verb.start, verb.end, c.clause, item="leachate", amount=quantity(span))
            return
        if not loose and (act == "empty" and verb.value == "empty" and c.words[verb.start].startswith("empt") or act in ("take", "harvest") and ready) and (pointing or any(p.tiers for p in c.clause.places)) and not c.has(_SUMP | {"pan", "liquid"}):
            before = c.sketch.clauses[c.index - 1] if c.index else c.clause
            wet = bool((_SUMP | {"pan", "drip", "liquid", "leachate", "jug"}) & set(c.words[before.start : before.end]))
            span = next((a for a in c.unused() if a.unit and not a.currency and a.unit not in ("percent", "degree", "degF", "degC", "inch", "cm")), None)
            if span:
                c.use(span)
            kind, item = ("drain", "leachate") if wet and act == "empty" else ("harvest", "castings")
            yield Draft(kind, verb.start, verb.end, c.clause, item=item, amount=quantity(span))
            return
        if act in ("give", "add", "pour") and not c.free() and c.has(_HOSES):
            span = next((a for a in c.unused() if a.unit in _VOLUMES and abs(a.start - verb.end) <= 5), None)
            if span:
                c.use(span)
                yield Draft("water", verb.start, span.end, c.clause, item="water", amount=quantity(span))
                return


def sprays(c: Context) -> Iterator[Draft]:
    """Sprays and squirts with no verb are water: "mid dry -> 6 sprays"."""
    for span in c.unused():
        if span.unit in _SPRAYS:
            c.use(span)
            yield Draft("water", span.start, span.end, c.clause, item="water", amount=quantity(span), state="ruled_out" if denied(c, span.start) else "done")


__all__ = ["Items", "act_of", "acts", "denied", "governing", "sprays"]
