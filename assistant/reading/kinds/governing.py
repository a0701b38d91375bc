"""Which verb takes a thing, what act the verb is, and what takes no thing at all."""

from __future__ import annotations

from assistant.reading.draft import Context
from assistant.reading.kinds.denials import turned
from assistant.reading.sketch import Item, Mention

_REACH = 9  # words from a verb to its particle
_NEW_PHRASE = frozenset("to and which let , came".split())
_OWN_PARTICLES = frozenset("back out off".split())
_GETTING = frozenset("get have went yield back eat".split())
_GIVEN_TO = frozenset("them it em 'em just maybe".split())
_ABOVE = frozenset("over across atop between".split())
_BY_HAND = frozenset("add pour give cover bed prepare buy sell".split())
"""Acts that no worm does: "they had put five lettuce leaves in" tells of keepers."""
_PREPOSITIONS = frozenset(
    "to like for as off from under on in into of around near by at inside below through against beside "
    "behind".split()
)
_WITH = frozenset(("with", "w/"))
_LYING_THERE = frozenset("the that its their this".split())
_PARTS = frozenset(
    "smell inside edge top bottom side corner out instead because full front back middle end rid".split()
)
_PIECES = frozenset("bit piece square scrap length sheet offcut layer layers".split())
_PUTTING = frozenset("add feed mix mixin bed pour scoop cover hang".split())
_PARTICLES = frozenset("in on down up over under out top".split())
_LAYING = frozenset("cover add bed start replace refresh".split())


def governing(c: Context, item: Item) -> Mention | None:
    """The verb that takes the item: the nearest before it in the clause, else the first after it."""
    verbs: list[Mention] = [
        v for v in c.here("verb") if v.value not in ("smell", "other") and not _lets(c, v)
    ]
    soaked = next((v for v in verbs if v.start == item.end + 1 and c.word(item.end) == "to"), None)
    if soaked is not None and soaked.value == "prepare":
        return soaked  # "set the brick to soak"
    before = [v for v in verbs if v.start < item.start and not _went_before(c, v)]
    if before and turned(c, before[-1].end, item.start) > before[-1].end:
        before = []  # "didn't have much, so just | two spoons of rice"
    after = [v for v in verbs if v.start >= item.end and not _takes_what_follows(c, v)]
    return before[-1] if before else next(iter(after), None)


def _takes_what_follows(c: Context, verb: Mention) -> bool:
    """ "need two bales", "in | went damp coir": the verb takes nothing that stands before it."""
    return verb.value == "need" or (verb.value == "went" and _in_front(c, verb))


def _went_before(c: Context, verb: Mention) -> bool:
    """ "a wet sack went over | the lid": what went stands before, and the lid only tells where."""
    if verb.value != "went" or _in_front(c, verb):
        return False
    return any(i.end <= verb.start and not aside(c, i) for i in c.items)


def _in_front(c: Context, verb: Mention) -> bool:
    """ "in went", "on goes", "down they go"."""
    return c.word(verb.start - 1) in _PARTICLES or c.word(verb.start - 2) in _PARTICLES


def _lets(c: Context, verb: Mention) -> bool:
    """ "let's call it six cups": no verb that takes anything."""
    return verb.value == "let" and c.word(verb.end) in ("'s", "me", "us")


def act_of(c: Context, verb: Mention) -> str:
    """The verb's act, turned by a particle that stands later: "took ... out" is a taking out."""
    return c.once(f"act {verb.start}", lambda: _act(c, verb))


def _act(c: Context, verb: Mention) -> str:
    for i in range(verb.end, min(verb.end + _REACH, c.clause.end)):
        if i > verb.end and c.words[i] in _NEW_PHRASE:
            break
        if c.words[i : i + 2] == ["back", "out"]:
            continue
        if verb.value == "add" and c.word(i + 1) in _WITH:
            continue  # "topped it off with": what follows is put in
        if verb.value == "turn" and c.word(i + 1) in ("there", "here"):
            continue  # "fluff it up in there"
        changed: str | None = c.vocabulary.particles.get(f"{verb.value} {c.words[i]}")
        if changed is not None and _belongs(c, verb, i):
            return changed
    return str(verb.value)


def kind_of(c: Context, act: str, item: Item) -> tuple[str | None, str]:
    """The kind that an act on the item makes, None where it makes none, and the topic it is taken for."""
    topics = item.topics if act != "feed" else sorted(item.topics, key=lambda t: t != "food")
    kinds = ((c.vocabulary.kind(act, topic), topic) for topic in topics)
    return next(((kind, topic) for kind, topic in kinds if kind), (None, item.topic))


def of_another(c: Context, verb: Mention) -> bool:
    """Whether somebody or something else does what the verb says: "they are feeding on the rind"."""
    act = act_of(c, verb)
    if not {verb.value, act}.isdisjoint(_GETTING | _BY_HAND):
        return False
    if c.vocabulary.kind(act, "organism") == "remove" and not any(x.start >= verb.end for x in c.items):
        return False
    i = verb.start - 1
    while i >= c.clause.start and c.vocabulary.role(c.words[i], "copula", "aux", "adverb", "negation"):
        i -= 1
    if i < c.clause.start or (i == verb.start - 1 and c.words[i] not in ("they", "it")):
        return False
    if c.words[i] in ("they", "it", "who", "which", "that"):
        return True
    return any(x.end == i + 1 and x.topic in ("worms", "organism") for x in c.items)


def aside(c: Context, item: Item) -> bool:
    """Whether a thing hangs on a preposition: a place or a purpose and not what was put in."""
    i = (item.amount.start if item.amount and item.amount.start < item.start else item.start) - 1
    while i > c.clause.start and item.start - i < 5:
        if not c.vocabulary.role(c.words[i], "det") and not c.finder.plain(i):
            break
        i -= 1
    word = c.words[i] if i >= c.clause.start else ""
    if word == "like" and c.word(i - 1) in _GIVEN_TO:
        return False  # "gave them like the core of an apple"
    if word in _ABOVE and c.word(i + 1) in _LYING_THERE and "cover" not in item.topics:
        return True  # "crumbled it over the bedding"
    verb = next((v for v in c.here("verb") if v.end in (i, i + 1)), None)
    if word not in _PREPOSITIONS or (verb is not None and not _onto_something(c, verb, i)):
        return False
    if word == "of":
        return not _of_a_measure(c, item, i)
    return not _under_a_cover(c, item, i)


def _onto_something(c: Context, verb: Mention, i: int) -> bool:
    """ "threw in some lettuce" takes the lettuce; "went on the roses" and "sat in some water" tell where."""
    if verb.value in _PUTTING:
        return verb.end == i and c.words[i] not in _PARTICLES
    if verb.value == "went":
        return c.vocabulary.role(c.word(i + 1), "det")
    return verb.end == i


def _belongs(c: Context, verb: Mention, i: int) -> bool:
    """Whether the particle at `i` is the verb's, and not the preposition of a phrase or another verb's."""
    after = c.word(i + 1)
    leads = i + 1 < c.clause.end and (c.vocabulary.role(after, "det") or after.isdigit())
    if leads and i > verb.end and c.words[i] not in _OWN_PARTICLES:
        return False
    return not any(verb.start < v.start <= i for v in c.here("verb"))


def _under_a_cover(c: Context, item: Item, i: int) -> bool:
    """ "started it in coir", "added some under cardboard": what follows such a verb is put in too."""
    if c.words[i] not in ("in", "under", "into") or set(item.topics).isdisjoint(("cover", "bedding")):
        return False
    if item.topic == "bedding" and c.word(i + 1) in _LYING_THERE:
        return False  # "tucked under the bedding"
    return any(v.value in _LAYING and v.end <= i for v in c.here("verb"))


def _of_a_measure(c: Context, item: Item, i: int) -> bool:
    """Whether the "of" at `i` follows a measure ("a tub of peels") and not a part ("the top of the sack")."""
    if any(a.end in (i, i + 1) for a in c.amounts):
        return True
    before = c.word(i - 1)
    some = (
        before in _PIECES or before in c.vocabulary.vague or c.sketch.ending("abundance", i + 1) is not None
    )
    return before not in _PARTS and ("cover" not in item.topics or some)
