"""What a verb makes of a thing it takes: the kind by words/acts.csv, turned by who gives and who gets."""

from __future__ import annotations

from assistant.reading.draft import Context, Draft
from assistant.reading.kinds import covers
from assistant.reading.kinds.away import thrown_away
from assistant.reading.kinds.denials import denied
from assistant.reading.kinds.drafting import PUT_IN, draft_of
from assistant.reading.kinds.governing import act_of, kind_of
from assistant.reading.kinds.near import is_of
from assistant.reading.kinds.payments import still_to_get
from assistant.reading.kinds.verbless import portion, put_in
from assistant.reading.sketch import Item, Mention

_OUTWARD = frozenset(
    "sell buy pickup giveaway give take takeout takeoff kill pick drain empty harvest yield water worms "
    "move".split()
)
"""Acts that never put in what they take."""

_HARVESTING = frozenset("takeout take harvest sieve yield collect scoop".split())
"""Acts by which compost is what the worms made."""

_KEPT_AWAY = frozenset("sell buy giveaway see check count other".split())
"""Acts that throw nothing away, wherever it may lie."""

_THROWN = frozenset("food organism bedding unknown".split())

_WEAK = frozenset("see check count eat have leave die need collect".split())
"""Acts that say little of what they take, but for bedding."""

_BUYABLE = frozenset("bedding amendment cover treatment food".split())
_INTO = frozenset("in into on onto over".split())
_ASIDE = frozenset("over back aside up apart".split())
_WITH = frozenset("w/ w with".split())
_HAS = frozenset(("'s", "has", "s"))
_RECEIVERS = frozenset("it they that this one both worms".split())
_SET_BY = frozenset(("aside", "back", "over", "apart"))
_MADE_HERE = frozenset(("castings", "leachate", "worms"))
_TAKEN = frozenset("harvest drain worms_removed worms_added buy remove".split())
_TO_US = frozenset(("me", "us"))


def with_verb(c: Context, item: Item, verb: Mention) -> Draft | None:
    """The draft for a thing that a verb takes; None where the two make no record."""
    act = "add" if _put_instead(c, item, verb) else act_of(c, verb)
    if act == "prepare" and item.start - verb.end > 6:
        act = "other"
    if item.topic in _THROWN and act not in _KEPT_AWAY and thrown_away(c, max(verb.start + 1, item.end)):
        return draft_of(c, "remove", item, verb)
    kind, topic = _kind(c, act, item)
    if (
        kind is None
        or _holds(c, item, verb)
        or (act == "get" and topic == "worms" and item.end <= verb.start)
    ):
        return None  # "the worms also got six squirts": they are who gets
    if (act == "prepare" and (not _stocked(c, verb) or "and" in c.words[verb.end : item.start])) or (
        kind == "remove" and _brought(c, item, act)
    ):
        return put_in(c, item)
    if kind == "omit":
        return draft_of(c, PUT_IN.get(topic, "feed"), item, verb, "ruled_out")
    kind = _turned(c, item, verb, act, kind, topic)
    if _tells_nothing(c, item, verb, act, kind, topic):
        return put_in(c, item) if act in ("get", "have") else None
    if act == "get" and item.amount is None and item.topic != "organism":
        return draft_of(c, kind, item, verb)
    return covers.moved(c, item, verb, act) if kind == topic == "cover" else draft_of(c, kind, item, verb)


def _put_instead(c: Context, item: Item, verb: Mention) -> bool:
    """ "replaced it with a cucumber": what stands behind "with" is put in."""
    start = min(item.start, item.amount.start) if item.amount else item.start
    between = c.words[verb.end : start]
    return (
        verb.value in ("replace", "swap", "refresh")
        and not _WITH.isdisjoint(between)
        and "bedding" not in between
    )


def _kind(c: Context, act: str, item: Item) -> tuple[str | None, str]:
    """The kind and the topic by the acts; with an amount, most verbs without a kind put the thing in."""
    kind, topic = kind_of(c, act, item)
    if act in _HARVESTING and is_of(item, "compost"):
        return "harvest", "castings"
    if kind is not None or not (item.amount or portion(c, item)) or item.topic not in PUT_IN:
        return kind, topic
    if act in _OUTWARD and not (act == "empty" and _INTO & set(c.words[item.end : item.end + 3])):
        return kind, topic
    if act in _WEAK and item.topic != "bedding":
        return None, topic
    return PUT_IN[item.topic], item.topic


def _turned(c: Context, item: Item, verb: Mention, act: str, kind: str, topic: str) -> str:
    """The kind, turned by who gives and who gets, and by what for."""
    if kind == "prepare":
        return "feed" if _for_the_worms(c, item) else kind
    took = act == "take" and c.words[verb.start].startswith(("t", "T"))
    if kind == "remove" and took and _by_a_place(c, verb) and topic in PUT_IN:
        return PUT_IN[topic]
    if act == "get" and topic in _BUYABLE and still_to_get(c, verb):
        return "buy"
    if topic in _MADE_HERE and kind in _TAKEN and _another_takes(c, verb):
        return "sell" if act in ("buy", "pickup") and topic != "worms" else kind if act == "buy" else "give"
    to_us = c.word(verb.end) in _TO_US
    if kind == "sell":
        return "buy" if to_us else kind
    if act != "give":
        return kind
    if topic == "leachate" and to_us:
        return "drain"
    if topic == "castings" and (to_us or _by_a_place(c, verb)):
        return "harvest"
    if kind in ("give", "buy") and _to_a_place(c, verb):
        return "worms_added" if topic == "worms" else "move"
    return kind


def _tells_nothing(c: Context, item: Item, verb: Mention, act: str, kind: str, topic: str) -> bool:
    """Whether the thing is only spoken of: held, known already, or worms that nobody counted or placed."""
    if act == "have" and _had_once(c, verb):
        return True
    aside = c.word(item.end) in _SET_BY or c.words[item.end : item.end + 3] == ["to", "one", "side"]
    if kind == "remove" and aside:
        return True
    if item.amount is not None and kind != "move":
        return False
    if act in ("have", "get") and item.topic != "organism":
        return act == "have" or not (
            c.clause.places or c.clause.days or _to_the_worms(c, verb) or denied(c, item.start)
        )
    if act in ("add", "feed", "mix", "mixin") and (_known_already(c, item) or _moved_aside(c, item, verb)):
        return True
    if act == "give" and topic == "worms" and any(o.start > item.end for o in c.items):
        return True
    if kind == "move" and act == "went" and not any(p.after in ("in", "into", "to") for p in c.clause.places):
        return True
    return kind in ("worms_removed", "worms_added") and not c.clause.places


def _stocked(c: Context, verb: Mention) -> bool:
    """Whether a preparing ("froze", "shredded") is told for itself, and not as an adjective."""
    before = c.word(verb.start - 1)
    if verb.start == c.clause.start or c.vocabulary.role(before, "subject", "aux", "adverb", "copula"):
        return True
    if any(d.end == verb.start for d in c.clause.days):
        return True
    end = verb.end + (c.word(verb.end) in ("up", "down"))
    if c.vocabulary.role(c.word(end), "det") or c.sketch.starting("amount", end) is not None:
        return True  # "the children chopped up | a whole butternut"
    return before in ("and", "to", "'ve", "'m", "'d", ",", ":", "-", "some", "i")


def _had_once(c: Context, verb: Mention) -> bool:
    """ "I had some peat": owned, and put nowhere."""
    return c.words[verb.start] == "had" and not c.clause.places and c.word(verb.start - 1) in ("i", "we")


def _to_the_worms(c: Context, verb: Mention) -> bool:
    """ "it got the skins", "they all got some rice": a bin or its worms are who gets."""
    i = verb.start - 1
    while i > c.clause.start and c.vocabulary.role(c.words[i], "adverb"):
        i -= 1
    return c.words[i] in _RECEIVERS


def _holds(c: Context, item: Item, verb: Mention) -> bool:
    """ "it's got a whole corn cob in there": what lies in it, and was put in some other day."""
    return c.words[verb.start] == "got" and c.word(verb.start - 1) in _HAS and item.topic == "food"


def _known_already(c: Context, item: Item) -> bool:
    """ "I'll tuck the food in the corner": the food is the one just told of, not another."""
    if not item.things or item.things[0].klass != "mixed":
        return False
    pointed = c.word(item.start - 1) in ("the", "that", "this", "it")
    return pointed and any(d.kind in ("feed", "bed") for d in c.drafts[-3:])


def _moved_aside(c: Context, item: Item, verb: Mention) -> bool:
    """ "fold the bedding over": "the bedding" is what lies in the bin already."""
    generic = bool(item.things) and item.things[0].klass == "mixed" and item.topic == "bedding"
    pointed = c.words[verb.end : item.start] in (["the"], ["that"], ["some", "of", "the"])
    return generic and pointed and c.word(item.end) in _ASIDE


def _brought(c: Context, item: Item, act: str) -> bool:
    """ "went out with two cups of peels": what is carried along is not what is taken out."""
    return act in ("takeout", "take", "takeoff", "get") and c.word((item.amount or item).start - 1) in _WITH


def _for_the_worms(c: Context, item: Item) -> bool:
    """ "chopped a melon for them"."""
    rest = c.words[item.end : item.end + 3]
    return "food" in item.topics and (rest[:2] == ["for", "them"] or rest == ["for", "the", "worms"])


def _another_takes(c: Context, verb: Mention) -> bool:
    """ "my sister took two pounds of worms": somebody named has what the bin made."""
    return any(m.value in ("other", "taker") and m.end <= verb.start for m in c.here("mark"))


def _by_a_place(c: Context, verb: Mention) -> bool:
    """ "the bottom tray gave two quarts": the bin is what gives."""
    return any(p.end == verb.start for p in c.clause.places)


def _to_a_place(c: Context, verb: Mention) -> bool:
    """ "gave bin two a pound of worms": the bin is what gets."""
    return any(0 <= p.start - verb.end <= 2 and c.word(p.end) != "'s" for p in c.clause.places)
