"""The lexicon as the reading needs it: every phrase with its senses, and the tables that rules ask."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from assistant.reading.spelling import Spelling
from lexicon import Lexicon, Thing

TOPICS = ("food", "bedding", "cover", "amendment", "treatment", "organism", "product")
SCALES = {
    "moisture": "level",
    "abundance": "level",
    "gatherings": "level",
    "leftover": "level",
    "progress": "level",
}
PLAIN = {
    "verbs": ("verb", "act"),
    "marks": ("mark", "mark"),
    "smells": ("smell", "smell"),
    "tiers": ("tier", "place"),
    "tiernouns": ("tiernoun", "form"),
    "binnouns": ("binnoun", "form"),
    "rooms": ("room", "form"),
    "instruments": ("instrument", "form"),
    "spots": ("spot", "form"),
    "heads": ("head", "role"),
    "worms": ("worms", "item"),
    "lightnouns": ("light", "act"),
    "grading": ("grade", "sense"),
}


class Sense(NamedTuple):
    """What a phrase may be: `label` names the layer it stands in, `value` what it says."""

    label: str
    value: Any


class Vocabulary:
    """Phrases and tables of one lexicon; built once, read only."""

    def __init__(self, lexicon: Lexicon) -> None:
        self.lexicon = lexicon
        self.phrases: dict[str, tuple[Sense, ...]] = {}
        for form, sense in _senses(lexicon):
            known = self.phrases.get(form, ())
            if sense not in known:
                self.phrases[form] = (*known, sense)
        self.acts = {tuple(row["form"].split()): row["kind"] for row in lexicon.table("acts")}
        self.acts_as = {row["form"]: row["acts_as"] for row in lexicon.table("topics")}
        self.spelling = Spelling(lexicon)
        self.particles = {row["form"]: row["act"] for row in lexicon.table("particles")}
        self.vague = frozenset(f.strip() for row in lexicon.table("vague") for f in row["form"].split(";"))
        self.denied_shares = {
            form.strip(): float(row["denied"])
            for row in lexicon.table("leftover")
            for form in row["form"].split(";")
            if row["denied"]
        }
        self.parts = {
            form: i
            for i, row in enumerate(lexicon.table("heads"))
            if row["role"] == "food"
            for form in row["form"].split(";")
        }
        self.measured = frozenset(
            f for row in lexicon.table("measures") for f in (row["name"], *row["forms"].split(";"))
        )
        self.conditions = frozenset(w for row in lexicon.table("conditions") for w in row["form"].split(";"))
        self.storage = frozenset(
            w
            for row in lexicon.table("adjectives")
            if row["sense"] == "storage"
            for w in row["form"].split(";")
        )
        self.away = _ends(lexicon, "away")
        self.signs = {
            f.strip(): int(row["points"]) for row in lexicon.table("signs") for f in row["form"].split(";")
        }
        self.portions = _ends(lexicon, "portions")
        self.bases = frozenset(b for row in lexicon.table("verbs") for b in _bases(row["form"].split(";")))
        self.roles: dict[str, frozenset[str]] = {}
        self._unions: dict[tuple[str, ...], frozenset[str]] = {}
        for row in lexicon.table("function"):
            forms = frozenset(f.strip() for f in row["form"].split(";"))
            self.roles[row["role"]] = self.roles.get(row["role"], frozenset()) | forms

    def topic(self, thing: Thing) -> str:
        """The topic of a thing as the acts see it: worms are not like other creatures (topics.csv)."""
        by_class = self.acts_as.get(f"{thing.topic} {thing.klass}", thing.topic)
        return self.acts_as.get(f"{thing.topic} {thing.name}", by_class)

    def kind(self, act: str, topic: str) -> str | None:
        """The kind of record that an act on something of a topic makes, None where it makes none."""
        return self.acts.get((act, topic))

    def role(self, word: str, *roles: str) -> bool:
        """Whether a word plays one of the grammatical roles of function.csv."""
        words = self._unions.get(roles)
        if words is None:  # asked of every word of a note: one look-up, not one a role
            words = self._unions[roles] = frozenset[str]().union(*(self.roles[r] for r in roles))
        return word in words


def _ends(lexicon: Lexicon, table: str) -> frozenset[tuple[str, ...]]:
    """The phrases of a table, cut into words."""
    rows = lexicon.table(table)
    return frozenset(tuple(f.split()) for row in rows for f in row["form"].split(";"))


def _senses(lexicon: Lexicon) -> Iterator[tuple[str, Sense]]:
    passed_over = {
        f
        for table in ("ambiguous", "function")
        for row in lexicon.table(table)
        for f in row["form"].split(";")
    }
    plain = {
        f
        for topic in TOPICS
        for t in lexicon.things.get(topic, {}).values()
        if "ambiguous" not in t.note
        for f in t.forms
    }
    counts = {
        w
        for t, c in (("measures", "forms"), ("vague", "form"))
        for row in lexicon.table(t)
        for w in row[c].split(";")
    }
    for topic in TOPICS:
        for thing in lexicon.things.get(topic, {}).values():
            for form in thing.forms:
                if (
                    form not in passed_over
                    and not _measured(form, counts)
                    and not ("ambiguous" in thing.note and form in plain)
                ):
                    yield form, Sense("thing", thing)
    for table, column in SCALES.items():
        for row in lexicon.table(table):
            level = float(row[column]) if row[column] else None
            for form in row["form"].split(";"):
                only_denied = level is None and row.get("denied")
                yield form.strip(), Sense("touched" if only_denied else table, level)
    for table, (label, column) in PLAIN.items():
        for row in lexicon.table(table):
            for form in row["form"].split(";"):
                yield form.strip(), Sense(label, form.strip() if column == "form" else row[column])


def _measured(form: str, counts: set[str]) -> bool:
    """ "pound of worms", "ball of worms": an amount with its thing, which the reading takes apart."""
    first, of, _ = form.removeprefix("a ").partition(" of ")
    return bool(of) and (first in counts or first.removesuffix("s") in counts)


def _bases(forms: list[str]) -> Iterator[str]:
    """The bare forms of a row of verbs: its first, and each whose own past or -ing form stands in the row."""
    yield forms[0].split()[0]
    known = set(forms)
    for form in forms[1:]:
        if (
            not form.endswith(("s", "ed"))
            and known & {form + "ed", form + "d", form + "ing", form + form[-1:] + "ed"}
        ) or (form.endswith("e") and form[:-1] + "ing" in known):
            yield form.split()[0]
