"""What a question is about: kinds of record and items, from the same words as in notes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from assistant.answers.facts import Facts
from assistant.answers.phrases import Heard, Phrase, phrases
from assistant.reading.sketch import Mention
from assistant.records import READINGS

EVERYTHING = "*"
"""In subjects.csv: the phrase stands for every item of its kinds."""
BY_TOPIC = {
    "food": "feed",
    "bedding": "bed",
    "cover": "cover",
    "amendment": "amend",
    "treatment": "treat",
    "organism": "sighting",
    "product": "harvest",
}
LEADS = frozenset("much many any the of some with feed fed put add added gave them more".split())
"""Words before a thing."""
HELPING = frozenset(("have", "get"))
"""Acts of verbs that in a question mostly help another: "have I got", "did it get"."""
TRADE = frozenset(("buy", "sell", "give", "prepare", "check"))
"""Kinds that take any item."""


@dataclass(slots=True)
class Subject:
    """Kinds and items asked about, and the words that say so, as indexes in the `Heard`."""

    kinds: tuple[str, ...] = ()
    items: tuple[str, ...] = ()
    topics: tuple[str, ...] = ()
    words: set[int] = field(default_factory=set)
    levels: tuple[float, ...] = ()
    everything: bool = False
    acts: tuple[str, ...] = ()


def subject(
    heard: Heard, facts: Facts, part: range, taken: set[int], quiet: set[int] | frozenset[int] = frozenset()
) -> Subject:
    """The subject in the words of `part`; words in `taken` belong to places, days and amounts.

    Verbs among the words in `quiet` ("dropped", "slowing down") do not tell of something done.
    """
    hits = [
        hit
        for hit in phrases(facts.lexicon, "subjects").longest(heard.words)
        if hit.start in part and hit.end <= part.stop and not taken & set(range(hit.start, hit.end))
    ]
    things = _things(heard, part, taken, hits) or _passed_over(heard, facts, part, taken, hits)
    acts = _acts(heard, part, taken | quiet)
    found = Subject(acts=tuple(acts))
    for hit in hits:
        found.words |= set(range(hit.start, hit.end))
    for mention in things:
        found.words |= heard.covered([(mention.start, mention.end)])
    found.everything = any(hit.row["item"] == EVERYTHING for hit in hits)
    found.items = tuple(item for item in _items(hits, things) if item not in facts.terms.everything)
    found.everything = found.everything or (bool(things) and not found.items)
    found.topics = tuple(dict.fromkeys(thing.topic for m in things for thing in m.value))
    found.kinds = _kinds(facts, hits, found, bool(things))
    found.levels = tuple(
        float(m.value)
        for layer in ("moisture", "leftover", "progress")
        for m in _within(heard, part, layer)
        if m.value is not None
    )
    return found


def _within(heard: Heard, part: range, layer: str) -> list[Mention]:
    if not len(part):
        return []
    return heard.sketch.within(layer, *heard.inside(part.start, part.stop))


def _things(heard: Heard, part: range, taken: set[int], hits: Sequence[Phrase]) -> list[Mention]:
    """The things named, save where a phrase of the questions covers the same words or more."""
    kept = []
    for mention in _within(heard, part, "thing"):
        words = heard.covered([(mention.start, mention.end)])
        if words & taken:
            continue
        if any(words <= set(range(hit.start, hit.end)) for hit in hits):
            continue
        kept.append(mention)
    return kept


def _passed_over(
    heard: Heard, facts: Facts, part: range, taken: set[int], hits: Sequence[Phrase]
) -> list[Mention]:
    """Things whose word alone the notes pass over ("card"), where a thing would stand in a question."""
    if any(hit.row["item"] == EVERYTHING for hit in hits):
        return []
    known = {i for hit in hits for i in range(hit.start, hit.end)} | taken
    found = []
    for i in part:
        word = heard.words[i]
        before = {heard.words[k] for k in range(max(part.start, i - 2), i)}
        if i not in known and word in facts.terms.ambiguous and word in facts.terms.things and before & LEADS:
            found.append(Mention(heard.at[i], heard.at[i] + 1, "thing", facts.terms.things[word]))
    return found


def _acts(heard: Heard, part: range, taken: set[int]) -> list[str]:
    acts = [
        str(m.value) for m in _within(heard, part, "verb") if not taken & heard.covered([(m.start, m.end)])
    ]
    return list(dict.fromkeys(act for act in acts if act not in HELPING))


def _items(hits: Iterable[Phrase], things: Iterable[Mention]) -> tuple[str, ...]:
    """Every name that the things go by, then the items that phrases bring."""
    names = [thing.name for m in things for thing in m.value]
    if not names:
        names = [hit.row["item"] for hit in hits if hit.row["item"] not in ("", EVERYTHING)]
    return tuple(dict.fromkeys(names))


def _kinds(facts: Facts, hits: Sequence[Phrase], found: Subject, things: bool) -> tuple[str, ...]:
    said = list(dict.fromkeys(kind for hit in hits for kind in hit.row["kinds"].split()))
    if "temperature" in said and "bed" in said:
        said.remove("bed")  # the warmth of the bed, not bedding
    if not things:
        return tuple(said) or tuple(_acting(facts, found.acts))
    acted = [kind for act in found.acts for kind in _acted(facts, act, found.topics, found.items)]
    doing = [kind for kind in said if kind not in READINGS]
    if acted:
        traded = [kind for kind in doing if kind in TRADE]
        return tuple(dict.fromkeys(traded or acted))
    if doing and (any(kind in TRADE for kind in doing) or _fits(doing, found.topics)):
        return tuple(doing)
    if said and all(kind in READINGS for kind in said) and said != ["sighting"]:
        return tuple(said)
    return tuple(dict.fromkeys(BY_TOPIC[topic] for topic in found.topics if topic in BY_TOPIC))


def _fits(kinds: Iterable[str], topics: Iterable[str]) -> bool:
    """Whether what is done can be done with such things."""
    own = {BY_TOPIC.get(topic) for topic in topics}
    return any(
        kind in own or kind in ("move", "remove", "harvest", "worms_added", "worms_removed") for kind in kinds
    )


def _acting(facts: Facts, acts: Iterable[str]) -> Iterable[str]:
    """Kinds that acts make with no thing named."""
    rows = {row["form"]: row["kinds"].split() for row in facts.lexicon.table("acting")}
    return dict.fromkeys(kind for act in acts for kind in rows.get(act, ()))


def _acted(facts: Facts, act: str, topics: Iterable[str], items: Iterable[str]) -> Iterable[str]:
    """Kinds that an act makes of things of some topics, by the tables of the notes."""
    table = {row["form"]: row["kind"] for row in facts.lexicon.table("acts")}
    acts_as = {row["form"]: row["acts_as"] for row in facts.lexicon.table("topics")}
    for topic in topics:
        classes = {thing.klass for item in items for thing in _of(facts, item, topic)}
        names = [acts_as.get(f"{topic} {klass}", topic) for klass in classes] or [topic]
        for name in names:
            kind = table.get(f"{act} {name}")
            if kind:
                yield kind


def _of(facts: Facts, item: str, topic: str) -> list[Any]:
    return [thing for thing in facts.terms.things.get(item, ()) if thing.topic == topic]
