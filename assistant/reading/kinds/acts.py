"""What was done: a verb's act and the topic of the thing it takes give the kind (words/acts.csv)."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.away import is_away
from assistant.reading.kinds.bare import bare
from assistant.reading.kinds.denials import denied
from assistant.reading.kinds.drafting import draft_of
from assistant.reading.kinds.governing import act_of, aside, governing, of_another
from assistant.reading.kinds.lights import light
from assistant.reading.kinds.verbless import a_total, without_verb
from assistant.reading.kinds.withverb import with_verb
from assistant.reading.sketch import Item, Mention

_ENDS = frozenset(("", ",", ".", ";", "today", "and", "for"))
_NAMING = frozenset(", : - – ( of is was were which 's it like namely this time today".split())


def acts(c: Context) -> Iterator[Draft]:
    """Drafts for the things that the clause's verbs take, and for verbs that need no thing."""
    done: set[int] = set()
    for item in c.free():
        beside = not _measured(c, item) and (aside(c, item) or is_away(c, item))
        if beside or _heading(c, item) or a_total(c, item):
            continue
        if _castings_out(c, item):
            c.taken.add(item.start)
            yield draft_of(c, "harvest", item)
            continue
        verb = governing(c, item)
        if verb is not None and verb.start in done and _put_in_behind(c, item, verb):
            verb = None
        if verb is not None and _done_alone(c, item, verb):
            verb = None
        if verb is not None and of_another(c, verb):
            continue
        draft = with_verb(c, item, verb) if verb else None
        if draft is not None and verb is not None:
            done.add(verb.start)
        elif verb is None or _behind_a_comma(c, item, verb):
            draft = without_verb(c, item)
        if draft is not None:
            c.taken.add(item.start)
            yield draft
    given, told = light(c)
    done |= told
    if given is not None:
        yield given
    for verb in c.here("verb"):
        draft = bare(c, verb) if verb.start not in done else None
        if draft is not None:
            yield draft


def _castings_out(c: Context, item: Item) -> bool:
    """ "refilled the tub: 9 kg castings out"."""
    unit = item.amount.unit if item.amount else None
    ends = c.word(item.end + 1) in _ENDS or item.end + 1 >= c.clause.end
    return item.topic == "castings" and unit is not None and c.word(item.end) in ("out", "taken") and ends


def _heading(c: Context, item: Item) -> bool:
    """ "put in fresh bedding, about three inches of shredded paper": the general word before the thing."""
    general = bool(item.things) and item.things[0].klass == "mixed" and item.amount is None
    named = c.after(item) if general else None
    if named is None or named.amount is None or denied(c, item.start):
        return False
    if set(named.topics).isdisjoint(item.topics) or not named.things:
        return False
    if named.things[0].klass == "mixed" or item.end == named.start:
        return False
    gap = c.words[item.end : min(named.start, named.amount.start)]
    if ":" in gap[:3]:
        return True  # "Food given: three peels"
    return all(w in _NAMING or c.vocabulary.role(w, "adverb", "filler") for w in gap)


def _measured(c: Context, item: Item) -> bool:
    """Whether an amount is said for the item, more than "a" or "an"."""
    if item.amount is None:
        return False
    return item.amount.unit is not None or c.word(item.amount.start) not in ("a", "an")


def _put_in_behind(c: Context, item: Item, verb: Mention) -> bool:
    """ "yanked the cukes, 2 qt of shavings in": the verb took what stands before the comma."""
    return item.amount is not None and c.word(item.end) == "in" and _behind_a_comma(c, item, verb)


def _done_alone(c: Context, item: Item, verb: Mention) -> bool:
    """ "forked through, 2 barrows of muck": the verb takes nothing, and the thing was put in."""
    alone = c.vocabulary.kind(act_of(c, verb), "nothing") in ("turn", "drain")
    return alone and c.word(verb.end) == "," and item.start > verb.end and "leachate" not in item.topics


def _behind_a_comma(c: Context, item: Item, verb: Mention) -> bool:
    """ "checked the tray, 2 cups of peels": the verb took something else, and the item none."""
    return "," in c.words[verb.end : item.start]
