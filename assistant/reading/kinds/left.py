"""Food seen uneaten: "the rind's half gone", "most of the turnip tops" (contract 4)."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.denials import denied
from assistant.reading.kinds.near import before, verb_values
from assistant.reading.kinds.shares import Share, shares
from assistant.reading.sketch import Item, Mention

_POINTERS = frozenset("it those they that these this them which".split())
_ADDING = frozenset(
    "add feed give went mix pour bed cover prepare buy sell giveaway water mixin takeout".split()
)
_WHOLE_OF = frozenset(("all", "most", "half"))
_OF = frozenset(("of", "the", "that", "those", "my"))
_TO_EAT = frozenset(("eat", "eating", "eats"))
_HAVE = frozenset("have 've has had got".split())
_NOT_EATEN = frozenset(("not", "n't", "nearly", "almost", "never"))
_LEFT = frozenset(("left", "remaining", "uneaten"))
_SEEN = frozenset(("still", "there", "left", "gone"))
_NO_FOOD = frozenset(("no", "not", "n't", "mold", "mould"))
_FED = frozenset(("feed", "leftover"))
_LED = frozenset("the that those my these this".split())
_NO_FOODS = frozenset(
    "rest stuff one ones lot lots bit food smell water other others same half whole first last next lid "
    "kids guys batch thing things problem reason plan".split()
)
_FAR = 16
"""Words that may stand between a food and its share, a relative clause among them."""
_NO_NAMES = frozenset(("what", "it", "that", "them"))
_JUST = frozenset(("just", "only", "but"))
_SMALL = frozenset(("bit", "little", "few", "bits"))
_IN_THERE = (["in", "it"], ["in", "there"], ["in", "here"], ["left", "in"])
_QUANTIFIERS = {
    **dict.fromkeys(("little", "bit", "few", "bits"), 0.25),
    "half": 0.5,
    **dict.fromkeys(("most", "lot", "lots"), 0.75),
    "all": 1.0,
    "no": 0.0,
}


def leftover(c: Context) -> Iterator[Draft]:
    """Foods of the clause with the share seen left; null where no share is said."""
    yield from _eaten(c, _foods(c))
    yield from _last_part(c)
    yield from _listed(c)
    told = shares(c)
    if not told:
        yield from _remaining(c, _foods(c))
        yield from _found(c, _foods(c))
        return
    for share in told:
        foods = _foods(c)
        item = _food_of(c, foods, share)
        if item is not None:
            yield _left(c, item, min(share.start, item.start), max(share.end, item.end), share.level)
            others = [f for f in foods if f is not item]
            for more in (*_listed_before(c, others, item), *_echoing(c, others, share)):
                yield _left(c, more, more.start, max(share.end, more.end), share.level)
        elif not foods and _pointing(c, share):
            name = _called(c, share) or _antecedent(c)
            if name and (share.level is not None or _still_there(c, share, name)):
                yield Draft("leftover", share.start, share.end, c.clause, item=name, level=share.level)


def _foods(c: Context) -> list[Item]:
    """The foods of the clause, and what may be one, that no record speaks of yet."""
    return [i for i in c.free() if "food" in i.topics or (i.topic == "unknown" and i.name not in _NO_NAMES)]


def _left(c: Context, item: Item, start: int, end: int, level: float | None) -> Draft:
    c.taken.add(item.start)
    return Draft("leftover", start, end, c.clause, item=item.name, level=level, doubts=item.doubts)


def _eaten(c: Context, foods: list[Item]) -> Iterator[Draft]:
    """ "they finished the papaya skins", "gone through every bit of that cabbage"."""
    verb = next((v for v in c.here("verb") if v.value == "eat"), None)
    if verb is None or c.words[verb.start] in _TO_EAT or _NOT_EATEN & set(before(c, verb.start, 3)):
        return
    if c.word(verb.end) == "everything" and c.words[verb.start] not in _TO_EAT:
        c.clause.used.update(range(verb.start, verb.end + 1))
        yield Draft("leftover", verb.start, verb.end + 1, c.clause, level=0.0)
        return
    if c.words[verb.start] == "eaten" and not _have_eaten(c, verb):
        return
    item = next((f for f in foods if 0 <= f.start - verb.end <= 6), None)
    if item is None and c.words[verb.start] == "finish":
        item = next((f for f in reversed(foods) if 0 <= verb.start - f.end <= 4), None)
    if item is not None and item.amount is None:
        yield _left(c, item, verb.start, item.end, 0.0)
    elif item is None and not c.items and _finished_it(c, verb) and (name := _antecedent(c)):
        yield Draft("leftover", verb.start, verb.end + 1, c.clause, item=name, level=0.0)


def _finished_it(c: Context, verb: Mention) -> bool:
    """ "they've finished it", "which I bet he finishes by Thursday": the food is only pointed at."""
    pointed = c.word(verb.end) in _POINTERS or c.word(c.clause.start) == "which"
    told = c.clause.stance == "expected" or bool(_HAVE & set(before(c, verb.start, 3)))
    return pointed and told


def _have_eaten(c: Context, verb: Mention) -> bool:
    """ "they've eaten the kale", not "the kale has been eaten"."""
    lead = before(c, verb.start, 3)
    return bool(_HAVE & set(lead)) and "been" not in lead and not any(i.end <= verb.start for i in c.items)


def _remaining(c: Context, foods: list[Item]) -> Iterator[Draft]:
    """ "there's a little cantaloupe left"."""
    for item in foods:
        left = _LEFT & set(c.words[item.end : item.end + 3])
        zero = item.amount is not None and item.amount.best == 0
        gone = left or c.words[item.end : item.end + 2] in _IN_THERE
        none = (zero and bool(left)) or (gone and bool(verb_values(c)) and denied(c, item.start))
        none = none or (_there_is(c) and denied(c, item.start) and _of_one_sort(item))
        if (item.amount is not None and not zero) or not (
            left or none or _only_a_bit(c, item) or _only_thing(c, item)
        ):
            continue
        if any(v.value == "leave" and v.start < item.start for v in c.here("verb")):
            continue
        said = (_QUANTIFIERS[w] for w in before(c, item.start, 4) if w in _QUANTIFIERS)
        start = max(c.clause.start, item.start - 2)
        yield _left(c, item, start, item.end + 1, 0.0 if none else next(said, None))
        return


def _of_one_sort(item: Item) -> bool:
    """Whether a food is named, and not food at large."""
    return bool(item.things) and item.things[0].klass != "mixed"


def _last_part(c: Context) -> Iterator[Draft]:
    """ "the plums | all that's left is skin": a part of the food spoken of before."""
    for item in _foods(c):
        name = _antecedent(c, item.start) if c.sketch.starting("head", item.start) is not None else None
        if name and _only_thing(c, item):
            c.taken.add(item.start)
            yield Draft("leftover", item.start - 1, item.end, c.clause, item=name, level=0.25)


def _listed(c: Context) -> Iterator[Draft]:
    """ "Corn gone. Peppers gone. Eggplant 1/2.": one more of a list of what is left."""
    last = c.drafts[-1] if c.drafts else None
    item = c.items[0] if len(c.items) == 1 else None
    if last is None or last.kind != "leftover" or item is None or item.amount is None:
        return
    share, told = item.amount, c.clause.end - c.clause.start - (item.end - item.start)
    if share.unit is None and 0 < share.best < 1 and told == share.end - share.start and item in _foods(c):
        item.amount = None
        yield _left(c, item, c.clause.start, c.clause.end, share.best)


def _only_thing(c: Context, item: Item) -> bool:
    """ "the only thing left is the onion", "all that's left is the stem"."""
    i = item.start - 1
    while i > c.clause.start and c.vocabulary.role(c.word(i), "det", "copula"):
        i -= 1
    return c.word(i) in _LEFT and c.word(i - 1) not in ("i", "we") and i < item.start - 1


def _only_a_bit(c: Context, item: Item) -> bool:
    """ "there's just a bit of squash": so little that it is what is left."""
    lead = before(c, item.start, 5)
    small = any(lead[k] in _JUST and _SMALL & set(lead[k + 1 :]) for k in range(len(lead)))
    return small and _there_is(c) and not set(verb_values(c)) - {"see"}


def _found(c: Context, foods: list[Item]) -> Iterator[Draft]:
    """ "there's swede in there", "I'm seeing corn cobs": food seen, with no word of how much."""
    if not foods or set(verb_values(c)) - {"see"} or c.has(_NO_FOOD):
        return
    if foods[0].amount is not None and not _there_is(c):
        return
    item, verbs = foods[0], c.here("verb")
    seen = bool(verbs) and c.words[verbs[0].start] != "see"
    placed = any(p.end <= item.start for p in c.clause.places)
    there = c.words[item.end : item.end + 2] in _IN_THERE or placed or _of_before(c, item)
    if there and (seen or _there_is(c)):
        yield _left(c, item, item.start, item.end + 2, None)


def _of_before(c: Context, item: Item) -> bool:
    """ "some of that bread", "bread from last time": food that was spoken of, or put in, before."""
    lead = c.words[max(c.clause.start, item.start - 2) : item.start]
    return lead in (["of", "that"], ["of", "those"], ["of", "the"]) or c.words[item.end : item.end + 2] == [
        "from",
        "last",
    ]


def _there_is(c: Context) -> bool:
    return c.once("there is", lambda: any(_is_there(c, i) for i in range(c.clause.start, c.clause.end)))


def _is_there(c: Context, i: int) -> bool:
    return c.words[i] == "there" and c.vocabulary.role(c.word(i + 1), "copula")


def _food_of(c: Context, foods: list[Item], share: Share) -> Item | None:
    """The food a share is said of: after "half the", else the nearest before, else the nearest after."""
    if _put_in(c, share):
        foods = [f for f in foods if f.amount is None]
    after = [f for f in foods if 0 <= f.start - share.end <= 5]
    if after and _partitive(c, share):
        return after[0]
    behind = [f for f in foods if f.end <= share.start and share.start - f.end <= _FAR]
    if behind:
        return behind[-1]
    return after[0] if after else None


def _put_in(c: Context, share: Share) -> bool:
    """ "gave them two cups of rinds, the cores are half gone": what has an amount is what was put in."""
    acts = (v.value for v in c.here("verb") if v.end <= share.start or v.start >= share.end)
    return any(a in _ADDING for a in acts) and not _SEEN & set(c.words[share.start : share.end])


def _partitive(c: Context, share: Share) -> bool:
    """ "half the", "most of", "all my": the food comes after its share."""
    joined = c.word(share.end) in _OF or c.word(share.end - 1) in ("of", "the")
    return joined or c.word(share.start) in _WHOLE_OF


def _listed_before(c: Context, foods: list[Item], item: Item) -> list[Item]:
    """ "the peels and the cores are gone": the same share for each of a list."""
    group = [f for f in foods if f.end <= item.start and item.start - f.end <= 3 and f.amount is None]
    if group and any(w in ("and", "&", ",") for w in c.words[group[-1].end : item.start]):
        return group[-1:]
    return []


def _echoing(c: Context, foods: list[Item], share: Share) -> list[Item]:
    """ "the crusts are gone and so is the celery": the same share for what is said to be like it."""
    for i in range(share.end, min(share.end + 3, c.clause.end - 2)):
        if c.words[i] == "so" and c.vocabulary.role(c.words[i + 1], "copula", "aux"):
            return [f for f in foods if 0 <= f.start - i - 2 <= 1][:1]
    return []


def _pointing(c: Context, share: Share) -> bool:
    """ "they're half gone": the clause only points at its food."""
    start, end = share.start, share.end
    if c.vocabulary.role(c.word(end), "copula") and c.word(end + 1) in _SEEN:
        return True
    pointed = bool(_POINTERS & set(c.words[c.clause.start : end + 2]))
    return (
        pointed
        or c.word(start - 1) in ("are", "is", "'s")
        or all(map(partial(_empty, c), range(c.clause.start, start)))
    )


def _empty(c: Context, i: int) -> bool:
    """Whether a word names nothing: "ought to be", "now only", "I can't"."""
    if c.sketch.covering("mark", i) is not None or c.word(i) == "to":
        return True
    return c.vocabulary.role(c.word(i), "adverb", "copula", "aux", "filler", "opener", "conj", "subject")


def _still_there(c: Context, share: Share, name: str) -> bool:
    """ "the cobs take for ever | they're still there": not said of the food before, and said to be there."""
    known = any(d.kind == "leftover" and d.item == name for d in c.drafts[-4:])
    return not known and c.word(share.start) == "still"


def _called(c: Context, share: Share) -> str | None:
    """ "the ampalaya is still there": a food that the lexicon does not know, by its name."""
    k = share.start - 1
    while k > c.clause.start and c.vocabulary.role(c.word(k), "adverb", "filler"):
        k -= 1
    if not c.vocabulary.role(c.word(k), "copula"):
        return None
    for led in (k - 2, k - 3):
        name = c.words[led + 1 : k]
        if led >= c.clause.start and c.word(led) in _LED and all(_strange(c, i) for i in range(led + 1, k)):
            return " ".join(name)
    return None


def _strange(c: Context, i: int) -> bool:
    """Whether a word is none that the lexicon or the set-up knows."""
    word, layers = c.word(i), (*c.sketch.layers, "place", "day", "amount")
    if not word.isalpha() or word in _NO_FOODS or any(c.sketch.covering(x, i) is not None for x in layers):
        return False
    return not any(word in role for role in c.vocabulary.roles.values())


def _antecedent(c: Context, until: int | None = None) -> str | None:
    """The food spoken of just before the clause, or before word `until`, where it is only pointed at."""
    floor = c.sketch.clauses[max(0, c.index - 3)].start
    things = c.sketch.within("thing", floor, c.clause.start if until is None else until)
    foods = [m for m in things if any(t.topic == "food" for t in m.value)]
    if not foods:
        return None
    last = foods[-1]
    told = (d.item for d in reversed(c.drafts) if d.start <= last.start < d.end and d.kind in _FED)
    return next((name for name in told if name), str(last.value[0].name))
