"""Verbs that take no thing: "misted it three sprays", "turned it", "drained 300 ml off the tap"."""

from __future__ import annotations

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.away import thrown_away
from assistant.reading.kinds.before import POINTING, fronted, put_in_after_all
from assistant.reading.kinds.denials import denied
from assistant.reading.kinds.drafting import DONE_WITH
from assistant.reading.kinds.figures import MASSES, READINGS, SPRAY, VOLUMES, amount_for
from assistant.reading.kinds.governing import act_of, aside, of_another
from assistant.reading.kinds.liquids import liquid_before, liquid_here, tipped_out
from assistant.reading.kinds.payments import needed, still_to_get
from assistant.reading.kinds.taken import measure_out, tray_tipped
from assistant.reading.kinds.thrown import thrown_out
from assistant.reading.kinds.unknown import bought, covered, made_ready, removed, uncovered
from assistant.reading.numbers import cardinal
from assistant.reading.sketch import Mention

_TAKING = frozenset("take takeout get scoop collect takeoff empty yield weigh".split())
_OBJECTS = frozenset("it them em 'em everything both this that page these".split())
_TURNED = frozenset(
    "it them that this everything with all both over through well gently up those these".split()
)
_TURNED_OVER = frozenset(
    "whole lot bed bin tray tier top bottom pile heap contents box surface material mix middle stuff layer "
    "end first rest row windrow farm wormery center centre upper lower old entire".split()
)
_NOT_TURNED = frozenset("out into up brown black sour on off ripped".split())
_TO_FEED = frozenset("to will 'll ll shall begin start resume again feed".split())
_THROWING = frozenset("takeout kill takeoff pickup pick take comeout goout".split())
_NOT_CASTINGS = frozenset("food worms organism cover".split())
_TWICE = {"once": 1, "twice": 2}
_BY_STROKES = ("mist", "spray", "spritz", "squirt", "pump")
_TAKING_OUT = frozenset(("takeout", "pick"))
_NOT_FED = frozenset("on nobody nothing up off".split())


def bare(c: Context, verb: Mention) -> Draft | None:
    """What a verb tells by itself, or of something that was told before it."""
    act = act_of(c, verb)
    if thrown_away(c, verb.end) and (thrown := thrown_out(c, verb, act)):
        return thrown
    kind = c.vocabulary.kind(act, "nothing")
    if act == "pour" and (tipped := tipped_out(c, verb)):
        return tipped
    if kind is None:
        return _of_something_before(c, verb, act)
    if kind == "drain" and c.word(verb.end) == "nothing":
        return None
    if verb.start in c.clause.used or _as_adjective(c, verb) or of_another(c, verb):
        return None
    if kind == "drain" and (tray_tipped(c, verb) or _solid(c, verb)):
        return None
    found = liquid_before(c) if kind == "drain" else None
    negated = denied(c, verb.start)
    if kind == "feed" and not negated and (antecedent := fronted(c, verb)):
        return antecedent
    amount = _free_amount(c, verb, kind) or (found.amount if found else None)
    negated = negated or c.word(verb.end) == "neither"
    if (act == "pour" and not any(a.unit in VOLUMES for a in c.unused())) or _used_up(c, verb, kind):
        return None
    if kind == "drain" and verb.value != "drain" and found is None and not liquid_here(c):
        return None
    if kind == "turn" and not _turns(c, verb):
        return None
    if kind == "feed" and not _feeds(c, verb, negated):
        return None
    if act == "sieve" and amount is None and not c.clause.places and _object(c, verb) not in ("it", "them"):
        return None
    return _draft(c, kind, verb, negated, amount)


def _solid(c: Context, verb: Mention) -> bool:
    """ "tipped out all the old bedding": nothing that runs."""
    tipped = c.words[verb.start].startswith("tip")
    return tipped and any(0 <= i.start - verb.end <= 3 and i.topic in ("bedding", "food") for i in c.items)


def _used_up(c: Context, verb: Mention, kind: str) -> bool:
    """ "I ran out of rainwater": nothing was let off."""
    return kind == "drain" and c.words[verb.end - 1] == "out" and c.word(verb.end) == "of"


def _draft(c: Context, kind: str, verb: Mention, negated: bool, amount: AmountSpan | None) -> Draft:
    draft = Draft(kind, verb.start, verb.end, c.clause, item=DONE_WITH.get(kind))
    if negated:
        draft.state = "ruled_out"
    elif amount is not None:
        c.use(amount)
        draft.amount = amount_for(kind, amount)
        draft.start, draft.end = min(draft.start, amount.start), max(draft.end, amount.end)
    return draft


def _of_something_before(c: Context, verb: Mention, act: str) -> Draft | None:
    """A verb that says nothing by itself: what it takes was told before, or is unknown, or not named."""
    if act in ("add", "give", "mixin", "scoop") and (antecedent := fronted(c, verb)):
        return antecedent
    if act in ("add", "cover", "mixin", "went", "back", "pour", "dig") and put_in_after_all(c, verb):
        return None
    if act in ("add", "hang", "cover") and not c.items and (on := covered(c, verb)):
        return on
    if act in ("add", "takeout", "takeoff") and (tipped := tipped_out(c, verb)):
        return tipped
    if act == "takeoff" and not c.items and (off := uncovered(c, verb)):
        return off
    if act == "prepare":
        return made_ready(c, verb)
    if act == "buy" or (act in ("get", "pickup") and still_to_get(c, verb)):
        return None if any(i.start >= verb.end for i in c.items) else needed(c, verb) or bought(c, verb)
    if act in _THROWING and (thrown := thrown_out(c, verb, act)):
        return thrown
    if verb.value in _TAKING_OUT and not c.items and (odd := removed(c, verb)):
        return odd
    in_use = any(i.topic in _NOT_CASTINGS and not aside(c, i) for i in c.items)
    taking = act in _TAKING or (act == "give" and _gave_us(c, verb))
    return measure_out(c, verb) if taking and not in_use else None


def _gave_us(c: Context, verb: Mention) -> bool:
    """ "the bottom tray gave me three buckets": a place is what gives."""
    return c.word(verb.end) in ("me", "us") and any(p.end == verb.start for p in c.clause.places)


def _as_adjective(c: Context, verb: Mention) -> bool:
    """ "the watered bedding"."""
    if not c.words[verb.start].endswith("ed"):
        return False
    if any(i.end == verb.start and i.start in c.taken for i in c.items):
        return True  # "fed two scoops of crumb wetted down"
    if not any(i.start == verb.end for i in c.items):
        return False
    return c.vocabulary.role(c.word(verb.start - 1), "det", "prep")


def _turns(c: Context, verb: Mention) -> bool:
    """Whether it is the bin that is turned, and not the page, the weather or the food brown."""
    one_word = verb.value in ("turn", "mix") and verb.end - verb.start == 1
    if one_word and not _of_the_bin(c, verb):
        return False
    return _object(c, verb) != "page" and c.word(verb.end) not in _NOT_TURNED


def _of_the_bin(c: Context, verb: Mention) -> bool:
    """Whether something of the bin is turned: it, the tray, the whole lot, or nothing more is said."""
    after = _after(c, verb)
    if after in ("the", "a", "my", "our") and c.finder.plain(verb.end + 1):
        return c.word(verb.end + 1) in _TURNED_OVER or c.sketch.covering("thing", verb.end + 1) is not None
    if not after.isalpha() or after in _TURNED or c.vocabulary.role(after, "det", "object", "filler"):
        return True
    if any(p.start == verb.end for p in c.clause.places):
        return True
    return after in ("by", "today", "again") and any(p.end == verb.start for p in c.clause.places)


def _feeds(c: Context, verb: Mention, negated: bool) -> bool:
    """ "fed them", "not feeding": not "fed it to the hens", "the feeding", "they fed on it"."""
    before, after = c.word(verb.start - 1), c.word(verb.end)
    if after in POINTING and c.word(verb.end + 1) == "to":
        return False
    if negated:
        return True
    if c.clause.stance == "planned" and (before in _TO_FEED or verb.start == c.clause.start):
        return True
    on_a_day = after == "on" and c.sketch.starting("day", verb.end + 1) is not None
    if not (_object(c, verb) or c.clause.places or _the_worms(c, verb)) or (
        after in _NOT_FED and not on_a_day
    ):
        return False
    if c.words[verb.start] in ("feeding", "feed") and before in ("been", "be", "and", "was"):
        return False
    return before not in ("the", "last", "a", "next", "this")


def _the_worms(c: Context, verb: Mention) -> bool:
    """ "fed the worms"."""
    return any(i.topic == "worms" and 0 < i.start - verb.end <= 2 for i in c.items)


def _after(c: Context, verb: Mention) -> str:
    """The word behind the verb, "" where the clause ends."""
    return c.word(verb.end) if verb.end < c.clause.end else ""


def _object(c: Context, verb: Mention) -> str:
    """The pronoun the verb takes, "" where it takes none."""
    after = _after(c, verb)
    return after if after in _OBJECTS else ""


def _free_amount(c: Context, verb: Mention, kind: str) -> AmountSpan | None:
    """The amount that the verb tells of: "misted it three sprays", "watered it four times"."""
    strokes = _strokes(c, verb) if kind == "water" else None
    if strokes is not None:
        return strokes
    for span in c.unused():
        if kind == "turn" or (kind == "feed" and span.unit is None):
            return None
        if span.unit is None or abs(span.start - verb.end) > 12 or (kind == "water" and span.unit in MASSES):
            continue
        if span.unit not in READINGS and span.unit != "min":
            return span
    return None


def _strokes(c: Context, verb: Mention) -> AmountSpan | None:
    """ "sprayed it ten times", "squirted the bottle twice": each time is a spray."""
    if not c.words[verb.start].startswith(_BY_STROKES):
        return None
    for i in range(verb.end, c.clause.end):
        count = _TWICE.get(c.words[i]) or (cardinal(c.words[i]) if c.word(i + 1) == "times" else None)
        if count:
            return AmountSpan(i, i + 1 + (c.word(i + 1) == "times"), count, count, count, SPRAY)
    return None
