"""What the lexicon says, ready for answering: things by form, measures by name, figures by name."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from assistant.answers.phrases import Once
from assistant.balance import Trade
from lexicon import Lexicon, Row, Thing


class Terms:
    """The tables of one lexicon by what is looked up in them; each is built when first asked for."""

    def __init__(self, lexicon: Lexicon) -> None:
        self.lexicon = lexicon
        self._alike: dict[tuple[str, str], bool] = {}

    @cached_property
    def things(self) -> dict[str, tuple[Thing, ...]]:
        """Every thing of the lexicon by each of its forms."""
        found: dict[str, tuple[Thing, ...]] = {}
        for by_name in self.lexicon.things.values():
            for thing in by_name.values():
                for form in thing.forms:
                    found[form] = (*found.get(form, ()), thing)
        return found

    @cached_property
    def measures(self) -> dict[str, Row]:
        """The rows of measures.csv by the name of the unit, US customary."""
        plain = (row for row in self.lexicon.table("measures") if " " not in row["dimension"])
        return {row["name"]: row for row in plain}

    @cached_property
    def limits(self) -> dict[str, float]:
        """The figures of answering.csv by name."""
        return {row["form"]: float(row["value"]) for row in self.lexicon.table("answering")}

    @cached_property
    def everything(self) -> frozenset[str]:
        """Names that stand for all of their topic ("food", "bedding"), by rules.csv."""
        rows = self.lexicon.table("rules")
        return frozenset(row["applies_to"] for row in rows if row["name"] == "speaks_of_all")

    @cached_property
    def plain_words(self) -> frozenset[str]:
        """Words of grammar, which name nothing."""
        rows = self.lexicon.table("function")
        return frozenset(form.strip().replace("'", "") for row in rows for form in row["form"].split(";"))

    @cached_property
    def ambiguous(self) -> frozenset[str]:
        """Words for things that the notes pass over where they stand alone."""
        return frozenset(form for row in self.lexicon.table("ambiguous") for form in row["form"].split(";"))

    @cached_property
    def groups(self) -> dict[str, frozenset[str]]:
        """Names that stand for whole classes of things."""
        return {row["form"]: frozenset(row["classes"].split(";")) for row in self.lexicon.table("groups")}

    @cached_property
    def trade(self) -> Trade:
        """Conversions and rules of the lexicon."""
        return Trade.of(self.lexicon)

    def like(self, item: str | None, wanted: Sequence[str]) -> bool:
        """Whether an entry's item is one that is asked for: by name, another form of it, or its class."""
        if item is None:
            return False
        return any(self._like(item, one) for one in wanted)

    def _like(self, item: str, wanted: str) -> bool:
        key = item, wanted
        known = self._alike.get(key)
        if known is None:
            known = self._alike[key] = (
                item == wanted or self._same(item, wanted) or self._member(item, wanted)
            )
        return known

    def _same(self, item: str, wanted: str) -> bool:
        mine, theirs = self.named(item), self.things.get(wanted, ())
        if any(one.name == other.name for one in mine for other in theirs):
            return True
        return _words(wanted) <= _words(item)

    def named(self, item: str) -> tuple[Thing, ...]:
        """The things of an item's name, or of its last words ("old coffee grounds"); empty for none."""
        words = item.split()
        tails = (" ".join(words[i:]) for i in range(len(words)))
        return next(filter(None, (self.things.get(tail, ()) for tail in tails)), ())

    def _member(self, item: str, wanted: str) -> bool:
        classes = self.groups.get(wanted)
        return bool(classes) and any(thing.klass in (classes or ()) for thing in self.named(item))


def _words(name: str) -> frozenset[str]:
    """The words of a name, a plural's s left off."""
    return frozenset(word[:-1] if word.endswith("s") and len(word) > 3 else word for word in name.split())


terms_of = Once(Terms)
"""The terms of a lexicon, built once for each."""
