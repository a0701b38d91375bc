"""The things of a clause that the lexicon knows, with what their own phrases say of them."""

from __future__ import annotations

from assistant.reading.covershapes import CoverShapes
from assistant.reading.nounphrases import NounPhrases
from assistant.reading.pieces import CONTAINERS, Pieces
from assistant.reading.sketch import Clause, Item, Mention
from lexicon import Thing

_PLANTS = frozenset(("plant", "plants", "bush", "tree"))
_NAMES_ANOTHER = CONTAINERS | _PLANTS
_LIKELY = (
    "castings",
    "leachate",
    "water",
    "worms",
    "organism",
    "bedding",
    "food",
    "amendment",
    "cover",
    "treatment",
    "product",
    "debris",
)


class Known:
    """Finds the known things of one note, clause by clause."""

    def __init__(self, phrases: NounPhrases) -> None:
        self.p, self.v, self.s, self.words = phrases, phrases.v, phrases.s, phrases.words
        self.pieces = Pieces(phrases)
        self.shapes = CoverShapes(phrases)

    def of(self, clause: Clause) -> list[Item]:
        """The known things of a clause, in order."""
        items: list[Item] = []
        for mention in self.s.within("thing", clause.start, clause.end):
            if self._of_a_container(mention.end) or self.p.measured(mention.end - 1):
                continue
            last = items[-1] if items else None
            if last is not None and mention.start < last.end:
                continue  # "spinach | stalks": the word is part of the name before it
            item = self._item(clause, mention)
            if self._part_of(items, item, clause.start):
                last = items[-1] if items else None
            if last is not None and self.shapes.joined(last, item):
                items[-1] = self.shapes.cover(last, item)
            elif last is not None and _one_food(last, item):
                last.end, last.name = item.end, self.p.said(last.start, item.end)
            else:
                items.append(item)
        return items

    def _item(self, clause: Clause, mention: Mention) -> Item:
        """A thing with the words that name it more closely: "melon | rinds", "sprout | trimmings"."""
        things: tuple[Thing, ...] = mention.value
        start, end, name = mention.start, mention.end, things[0].name
        heads = self.s.within("head", end, clause.end)
        if self._another_part(self.words[start:end], name.split()):
            name = self.p.said(start, end)
        head = next((h for h in heads if h.start == end), None)
        role = head.value if head else ""
        if head and end not in self.p.place_words and role in [t.topic for t in things]:
            end = head.end
            name = self.p.said(start, end)
        if role == "" and (_generic(mention) or self._short(mention)):
            front = self.p.past_condition(self.p.modifiers(start, clause.start), start)
            if 0 < start - front <= 2:
                start = front
                name = self.p.said(start, end)
        doubts = (mention.doubt,) if mention.doubt else ()
        amount = self.pieces.measure_as_said(start, clause.start) or self.pieces.single(start, end, things)
        return Item(start, end, name, self.topics(things), amount, doubts, things)

    def _part_of(self, items: list[Item], item: Item, floor: int) -> bool:
        """Take in the part told before the plant: "the peelings of four | carrots" are carrot peelings."""
        i = item.start - 1
        while i > floor and item.start - i < 4 and (self.p.in_amount(i) or self.v.role(self.words[i], "det")):
            i -= 1
        part = i - 1
        if item.topic != "food" or self.words[i] != "of" or part < floor or self.p.in_amount(part):
            return False
        if self.words[part] not in self.v.parts or self.words[part] in item.name.split():
            return False
        if items and items[-1].end == i:
            items.pop()
        item.start, item.name = part, f"{item.things[0].name} {self.words[part]}"
        return True

    def _another_part(self, said: list[str], name: list[str]) -> bool:
        """ "pumpkin seeds" are no "pumpkin guts": the note names another part than the lexicon."""
        parts = {self.v.parts[w] for w in said if w in self.v.parts}
        return len(said) > 1 and bool(parts - {self.v.parts.get(w) for w in name})

    def _of_a_container(self, i: int) -> bool:
        """Whether the word at `i` makes the thing before it a mere container: "ice cream tubs of hulls"."""
        return i < len(self.words) and self.words[i] in _NAMES_ANOTHER

    def topics(self, things: tuple[Thing, ...]) -> tuple[str, ...]:
        """The topics a thing may be of, the likeliest first: what is put in loose is bedding before food."""
        unlikely = {self.v.topic(t) for t in things if "ambiguous" in t.note}
        topics = {self.v.topic(t) for t in things}
        return tuple(sorted(topics, key=lambda t: (t in unlikely, _LIKELY.index(t))))

    def _short(self, mention: Mention) -> bool:
        """Whether one word stands for a longer name ("pellets"): a word before it may name another thing."""
        said = self.words[mention.start]
        names = [t.name.split() for t in mention.value]
        return mention.end - mention.start == 1 and all(said in name and len(name) > 1 for name in names)


def _one_food(last: Item, item: Item) -> bool:
    """ "lima bean | hulls" is one food."""
    both = last.topic == "food" and item.things[0].topic == "food"
    return both and last.end == item.start and item.amount is None


def _generic(mention: Mention) -> bool:
    """Whether one word only says what sort of thing it is ("scraps")."""
    sort = any(t.klass == "mixed" or "generic" in t.note for t in mention.value)
    return sort and mention.end - mention.start == 1
