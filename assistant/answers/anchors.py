"""Days that hang on a record: "before I added the dry card", "since the last harvest"."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from assistant.answers.facts import Facts
from assistant.answers.phrases import Heard
from assistant.answers.query import Query
from assistant.answers.subject import subject
from assistant.answers.wording import day_words
from assistant.records import ACTIONS, Entry
from assistant.wording import what

RELATIONS = {
    "before": "before",
    "after": "after",
    "since": "since",
    "until": "before",
    "till": "before",
    "following": "after",
}
ASKING = frozenset("how what when where which who did do does is are was were have has had any".split())


@dataclass(frozen=True, slots=True)
class Anchor:
    """A relation and the words that tell of the record it hangs on."""

    relation: str
    heard: Heard
    words: range


def anchor_of(heard: Heard) -> tuple[Anchor | None, range]:
    """The anchor of a question, None where it has none, and the words that remain."""
    days = heard.covered([(d.start, d.end) for d in heard.sketch.days])
    whole = range(len(heard))
    for i, word in enumerate(heard.words):
        if word not in RELATIONS or i in days or i + 1 in days or i + 1 >= len(heard):
            continue
        if i and heard.words[i - 1] in ("long", "days", "weeks", "day", "much"):
            continue  # "how long since", "how long till" ask for days
        if i == 0:
            stop = next((k for k in range(2, len(heard)) if heard.words[k] in ASKING), len(heard))
            if stop < len(heard):
                return Anchor(RELATIONS[word], heard, range(1, stop)), range(stop, len(heard))
            return None, whole
        return Anchor(RELATIONS[word], heard, range(i + 1, len(heard))), range(i)
    return None, whole


def settle(query: Query, anchor: Anchor, facts: Facts) -> Query:
    """The query, bounded by the latest record that the anchor's words tell of."""
    about = subject(anchor.heard, facts, anchor.words, set())
    if not about.items and not ACTIONS & set(about.kinds):
        return query
    found = next(filter(None, (_found(query, (kind,), about.items, facts) for kind in about.kinds)), None)
    found = found or _found(query, about.kinds, about.items, facts)
    if not found:
        said = " ".join(anchor.heard.words[anchor.words.start : anchor.words.stop])
        return replace(
            query, taken=(*query.taken, f"the log has nothing of '{said}'"), unknown=query.unknown or said
        )
    mark = found[-1]
    day = date.fromisoformat(mark.day)
    said = f"{anchor.relation} {day_words(day)}: {what(mark.record)}"
    query = replace(query, taken=(*query.taken, said))
    if anchor.relation == "before":
        return replace(query, before=mark.id, last=day)
    if anchor.relation == "after":
        return replace(query, after=mark.id, first=day)
    return replace(query, first=day, after=None)


def _found(query: Query, kinds: tuple[str, ...], items: tuple[str, ...], facts: Facts) -> list[Entry]:
    """The records of an anchor: in the tier that is asked about, else in the bin, else anywhere."""
    wanted = Query("last", kinds=kinds, items=items, bin=query.bin, tiers=query.tiers)
    wider = (wanted, replace(wanted, tiers=()), replace(wanted, tiers=(), bin=None))
    return next(filter(None, map(facts.choose, wider)), [])
