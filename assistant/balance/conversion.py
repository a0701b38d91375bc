"""From the keeper's own amounts to kilograms and what is in them; every figure says where it came from."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from assistant.balance.rules import Limit, Rules
from assistant.balance.spread import Spread
from assistant.records import Amount
from lexicon import Figure, Lexicon, Row, Thing, inflect

GRAMS_A_KILO = MILLILITRES_A_LITRE = LITRES_A_CUBIC_METRE = 1000.0
KEEPER = "keeper"
"""Stands for a source code where the figure is the keeper's own."""
GENERIC = "mixed"
"""The first thing of this class stands for its whole topic, where a thing has no figure of its own."""


@dataclass(frozen=True, slots=True)
class Substance:
    """What a material is made of: moisture %, nitrogen % of dry mass, C:N, and how fast it goes.

    `rate` is the share lost a day at the reference temperature. A figure that the lexicon has neither for the
    material nor for its topic is None.
    """

    name: str
    topic: str
    moisture: Figure | None
    nitrogen: Figure | None
    c_to_n: Figure | None
    rate: Limit | None
    taken_as: str
    """The material whose figures stand in, where its own are missing; empty where they are its own."""


@dataclass(frozen=True, slots=True)
class Weight:
    """What one `unit` of a material weighs, in kg, with the reckoning in words and the source codes."""

    unit: str
    kg: Spread
    basis: str
    sources: tuple[str, ...]


class Converter:
    """Weights and substances of a lexicon; each pair of material and unit is worked out once."""

    def __init__(
        self, lexicon: Lexicon, rules: Rules, system: str = "", own: Mapping[str, float] | None = None
    ) -> None:
        """`system` is "imperial" or "metric" where the keeper's settings say so.

        `own` gives what the keeper's own measures hold, in ml.
        """
        self.rules = rules
        self._things = lexicon.things
        self._forms: dict[str, dict[str, Thing]] = {}
        for topic, things in lexicon.things.items():
            index = self._forms[topic] = {}
            for thing in things.values():
                for form in thing.forms:
                    index.setdefault(form, thing)
        self._measures = _measures(lexicon, system)
        for unit, millilitres in (own or {}).items():
            row = {
                "name": unit,
                "dimension": "own",
                "base": str(millilitres),
                "low": "",
                "high": "",
                "source": KEEPER,
            }
            self._measures[unit] = row
        self._generic = {
            topic: next((thing for thing in things.values() if thing.klass == GENERIC), None)
            for topic, things in lexicon.things.items()
        }
        self._weights: dict[tuple[str, str, str], Weight | None] = {}
        self._topics: dict[tuple[str | None, str], str] = {}
        self._likes: dict[tuple[str, str, str], bool] = {}
        self._substances: dict[tuple[str, str], Substance] = {}

    def thing(self, item: str | None, topics: Iterable[str]) -> Thing | None:
        """The lexicon's thing for `item`, in the first of `topics` that knows the word."""
        for topic in topics:
            found = self._forms.get(topic, {}).get(item or "")
            if found:
                return found
        return None

    def topic_of(self, item: str | None, wanted: str) -> str:
        """The topic `wanted` where it knows `item`, else the first that does, else `wanted` after all."""
        key = (item, wanted)
        if key not in self._topics:
            found = self.thing(item, (wanted, *self._forms))
            self._topics[key] = found.topic if found else wanted
        return self._topics[key]

    def name_of(self, item: str | None, topic: str) -> str:
        """One name for all the words for the same thing; a word that is not known stands for itself."""
        found = self._forms[topic].get(item or "") if topic in self._forms else None
        return found.name if found else item or topic

    def like(self, said: str | None, name: str, topic: str) -> bool:
        """Whether what was `said` speaks of the heap called `name`: the same thing, or one within the other.

        No item, and words like "scraps" (a rule of the data), speak of everything.
        """
        key = (said or "", name, topic)
        if key not in self._likes:
            self._likes[key] = self._like(said, name, topic)
        return self._likes[key]

    def _like(self, said: str | None, name: str, topic: str) -> bool:
        if said is None:
            return True
        wanted = self.name_of(said, self.topic_of(said, topic))
        if wanted == name or self.rules.find("speaks_of_all", (wanted,)):
            return True
        words, others = _words(said), _words(name)
        return words <= others or others <= words

    def substance(self, item: str | None, topic: str) -> Substance:
        """What `item` is made of, the topic's mixed material standing in for figures that are missing."""
        key = (item or "", topic)
        if key not in self._substances:
            self._substances[key] = self._substance(item, topic)
        return self._substances[key]

    def _substance(self, item: str | None, topic: str) -> Substance:
        thing, generic = self.thing(item, (topic,)), self._generic.get(topic)
        names = ("moisture", "nitrogen", "c_to_n")
        own = {name: _figure(thing, name) for name in names}
        stands_in = [name for name in names if not own[name] and _figure(generic, name)]
        figures = {name: own[name] or _figure(generic, name) for name in names}
        applies = [item or "", thing.klass if thing else "", topic]
        return Substance(
            item or topic,
            topic,
            figures["moisture"],
            figures["nitrogen"],
            figures["c_to_n"],
            self.rules.find("decay", [word for word in applies if word]),
            generic.name if stands_in and generic and generic is not thing else "",
        )

    def weight(self, unit: str, item: str | None, topic: str) -> Weight | None:
        """What one `unit` of `item` weighs; None where neither the unit nor the material says."""
        key = (unit, item or "", topic)
        if key not in self._weights:
            self._weights[key] = self._weight(unit, item, topic)
        return self._weights[key]

    def kilograms(self, amount: Amount, item: str | None, topic: str) -> Spread | None:
        """`amount` in kg with its range, None where it cannot be told."""
        weight = self.weight(amount.unit, item, topic)
        return weight.kg.times(Spread(amount.low, amount.best, amount.high)) if weight else None

    def _weight(self, unit: str, item: str | None, topic: str) -> Weight | None:
        measure = self._measures.get(unit)
        if measure and measure["dimension"] == "mass":
            grams = Spread.exactly(float(measure["base"]))
            return Weight(unit, _kilos(grams), f"1 {unit} = {grams.best:g} g", (measure["source"],))
        if unit == "piece":
            return self._piece(unit, item, topic)
        if not measure or measure["dimension"] not in ("volume", "own"):
            return None
        return self._poured(unit, measure, item, topic)

    def _piece(self, unit: str, item: str | None, topic: str) -> Weight | None:
        thing = self.thing(item, (topic,))
        figure = _figure(thing, "piece")
        if not thing or not figure:
            return None
        grams = Spread(figure.low, figure.best, figure.high)
        return Weight(unit, _kilos(grams), f"one {thing.name} {_range(grams)} g", (figure.source,))

    def _poured(self, unit: str, measure: Row, item: str | None, topic: str) -> Weight | None:
        """A measure of volume, filled with the material as poured."""
        thing, litres = self.thing(item, (topic,)), _litres(measure)
        own = _figure(thing, "density")
        density = own or _figure(self._generic.get(topic), "density")
        if not litres or not density:
            return None
        poured = Spread(density.low, density.best, density.high)
        kilos = litres.times(poured).scaled(1 / LITRES_A_CUBIC_METRE)
        name = thing.name if thing and own else f"{item or topic} taken as mixed {topic}"
        basis = f"1 {unit} = {_range(litres)} litre, {name} {_range(poured)} kg/m3 as poured"
        return Weight(unit, kilos, basis, (measure["source"], density.source))


def _words(name: str) -> frozenset[str]:
    """The words of a name, each in the shorter of its two numbers ("rinds" and "rind" are one)."""
    return frozenset(min((word, *inflect(word)), key=len) for word in name.split())


def _measures(lexicon: Lexicon, system: str) -> dict[str, Row]:
    """Measures by name: those of the keeper's system ("imperial volume") before the common ones."""
    rows = {row["name"]: row for row in lexicon.table("measures") if " " not in row["dimension"]}
    theirs = [row for row in lexicon.table("measures") if row["dimension"].startswith(f"{system} ")]
    return rows | {row["name"]: {**row, "dimension": row["dimension"].split()[-1]} for row in theirs}


def _litres(measure: Row) -> Spread | None:
    """The volume of a measure: exact, or the keeper's own range with its middle as best."""
    base, low, high = (float(measure[end]) if measure[end] else None for end in ("base", "low", "high"))
    if base is None and (low is None or high is None):
        return None
    least, most = (base if end is None else end for end in (low, high))
    assert least is not None and most is not None
    best = (least + most) / 2 if base is None else base
    return Spread(least, best, most).scaled(1 / MILLILITRES_A_LITRE)


def _kilos(grams: Spread) -> Spread:
    return grams.scaled(1 / GRAMS_A_KILO)


def _figure(thing: Thing | None, name: str) -> Figure | None:
    return thing.figures.get(name) if thing else None


def _range(spread: Spread) -> str:
    low, best, high = (f"{value:.3g}" for value in spread)
    return best if low == high else f"{best} ({low}-{high})"
