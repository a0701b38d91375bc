"""What a line is: a note, a question (with or without its mark), both, a correction, or a wish."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Literal, TypeAlias

from assistant.answers.phrases import Heard, phrases
from assistant.reading.sketch import Sketch
from lexicon import Lexicon, load

Sort: TypeAlias = Literal["note", "question", "both", "correction", "wish"]

OPENERS = frozenset("so and but ok okay hey well then um uh oh also now right please hi hello er".split())
ASKING = frozenset("what when where which who whose why how".split())
AUX = frozenset(
    "did do does is are was were has have had should can could will would am shall must "
    "isnt arent wasnt didnt dont doesnt hasnt havent".split()
)
SUBJECTS = frozenset("i we it they there you he she this that these those anyone anybody anything".split())
ARTICLES = frozenset("the my our".split())
MANNER = frozenset("many much often long wet dry warm hot cold full far old soon deep big bad damp".split())
PARTS = frozenset("of the my our last first to each every other".split())
HINGES = frozenset(
    "if since before after when while because as assuming suppose supposing until till".split()
)
"""Words that hang a part on the question beside it."""
PLAIN_VERBS = frozenset(("have", "come", "go", "need", "do", "get", "like", "help", "work", "grow", "drop"))
PASTS = frozenset(("went", "goes", "got", "gets"))
LONG = 30
"""A line of more words than this is a note, unless it ends in a question with its mark."""
LONGEST_WISH, LONGEST_FIX, LONGEST_NOT = 9, 14, 10
"""Words that a wish, a correction, and "three not two" have at most."""
REACH = 6
"""The verb of a question stands within so many words of its "which" or "how much"."""
_STOPS = re.compile(r"[.;\n]+(?=\s|$)|(?<=[?!])\s*|,\s+(?=\w)")


def sort_of(text: str, sketch: Sketch, lexicon: Lexicon | None = None) -> Sort:
    """The sort of a line. `sketch` is the reading's sketch of the same text. Never fails."""
    known = lexicon or load()
    heard = Heard(sketch)
    if not len(heard):
        return "note"
    if _wish(heard, known):
        return "wish"
    parts = list(_parts(text, heard))
    asked = [_asks(heard, known, part, len(parts) == 1) for part in parts]
    if _correction(heard, known, text) and not any(asked):
        return "correction"
    if len(heard) > LONG:  # a walk through the bins asks itself many things: only a marked end is for us
        return "both" if asked[-1] and _marked(heard, parts[-1]) and len(parts[-1]) <= REACH * 2 else "note"
    if not any(asked):
        return _inner(heard, known)
    if _answered(heard, known, parts, asked):
        return "note"
    telling = [part for part, ask in zip(parts, asked, strict=True) if not ask and _tells(heard, part)]
    if not telling:
        return "question"
    return "both" if asked[0] or asked[-1] else "note"


def _front(heard: Heard, part: range) -> int:
    """The first word that is no opener; the first of all where every one is."""
    return next((i for i in part if heard.words[i] not in OPENERS), part.start)


def _starts(heard: Heard, lexicon: Lexicon, sense: str, at: int) -> bool:
    found = phrases(lexicon, "lines").all(heard.words[at : at + REACH])
    return any(one.start == 0 and one.row["sense"] == sense for one in found)


def _wish(heard: Heard, lexicon: Lexicon) -> bool:
    start = _front(heard, range(len(heard)))
    rest = set(heard.words[start + 1 :])
    if len(heard) > LONGEST_WISH or heard.asked or not _starts(heard, lexicon, "wish", start):
        return False
    return not rest & ASKING and not heard.sketch.amounts


def _parts(text: str, heard: Heard) -> Iterator[range]:
    """The sentences of a line, and what a comma cuts off, as runs of words."""
    ends = [m.end() for m in _STOPS.finditer(text)] + [len(text)]
    begin = k = 0
    for end in ends:
        while k < len(heard) and heard.sketch.spans[heard.at[k]][0] < end:
            k += 1
        if k > begin:
            yield range(begin, k)
            begin = k


def _asks(heard: Heard, lexicon: Lexicon, part: range, alone: bool) -> bool:
    """Whether a part puts a question: by how it begins, or by its mark where it stands `alone`.

    A mark on a word or two of a note ("temp??") is a doubt, not a question.
    """
    start = _front(heard, part)
    mark = _marked(heard, part)
    if not mark and (_starts(heard, lexicon, "telling", start) or _went(heard, part, start)):
        return False
    if _starts(heard, lexicon, "question", start) and (
        part.start == 0 or mark or heard.words[start] not in ("any",)
    ):
        return start == part.start or mark or heard.words[part.start] != "and" or len(part) > 1
    if _starts(heard, lexicon, "question", part.start):
        return True
    return (mark and alone) or _put(heard, start, part.stop)


def _went(heard: Heard, part: range, start: int) -> bool:
    """ "Any leftover squash went into the tote" tells of it."""
    return heard.words[start] == "any" and bool(PASTS & set(heard.words[start : part.stop]))


def _marked(heard: Heard, part: range) -> bool:
    """Whether a question mark follows the last word of a part."""
    _, end = heard.inside(part.stop - 1, part.stop)
    words = heard.sketch.words
    return any("?" in word for word in words[heard.at[part.stop - 1] + 1 : end])


def _put(heard: Heard, start: int, stop: int) -> bool:
    """Whether a question is put at word `start`: "when did", "is the", "how much coffee is"."""
    words = heard.words
    word = words[start]
    after = words[start + 1] if start + 1 < stop else ""
    if word.endswith("s") and word[:-1] in ASKING:
        return True  # "what's", "when's"
    if word in ASKING:
        if after in AUX:
            return True
        if word == "how" and after in MANNER:
            return _verb_ahead(words, start + 2, stop) or after in ("many", "much", "often", "long")
        return (
            word in ("which", "what", "whose")
            and after not in SUBJECTS | {"a", "an", "if"}
            and _verb_ahead(words, start + 2, stop)
        )
    if word in AUX:
        return _inverted(heard, start, stop)
    return False


def _verb_ahead(words: Sequence[str], start: int, stop: int) -> bool:
    """Whether an auxiliary or a plain past comes before any subject."""
    for word in words[start : min(stop, start + REACH)]:
        if word in AUX or word in ("gave", "had", "got", "needs", "need", "costs", "went", "came"):
            return True
        if word in SUBJECTS - {"this", "that", "these", "those", "there"}:
            return False
    return False


def _inverted(heard: Heard, start: int, stop: int) -> bool:
    """Whether a subject follows the auxiliary at `start`: "is it", "did the tub"; not "did the big feed"."""
    words, sketch = heard.words, heard.sketch
    word = words[start]
    after = words[start + 1] if start + 1 < stop else ""
    if after in SUBJECTS:
        return word != "had" or after in ("i", "we", "it", "they", "there")
    if after in ("any", "what"):
        return True
    if after in ("not", "a", "an", "no"):
        return False
    if after in ARTICLES or any(
        p.start == heard.at[start + 1] for p in sketch.places if start + 1 < len(heard)
    ):
        return word != "had" and _then_verb(heard, start + 1, stop, word)
    return False


def _then_verb(heard: Heard, start: int, stop: int, aux: str) -> bool:
    """After "did the ...": a subject and a verb or more must follow; "did the big feed, ..." has none."""
    if aux not in ("did", "do", "does"):
        return stop - start > 1
    verbs = {k for m in heard.sketch.layers.get("verb", ()) for k in heard.covered([(m.start, m.end)])}
    nouns = heard.covered([(m.start, m.end) for m in heard.sketch.layers.get("thing", ())])
    nouns |= heard.covered([(p.start, p.end) for p in heard.sketch.places])
    first = next((k for k in range(start + 1, stop) if k in verbs | nouns), stop)
    if first in verbs - nouns and first <= start + 2:
        return False  # "did the big feed"
    return any(k in verbs or heard.words[k] in PLAIN_VERBS for k in range(start + 2, stop))


def _correction(heard: Heard, lexicon: Lexicon, text: str) -> bool:
    start = next((i for i in range(len(heard)) if heard.words[i] not in OPENERS - {"oh", "so"}), 0)
    if len(heard) > LONGEST_FIX:
        return False
    if any(_starts(heard, lexicon, "correction", at) for at in {0, start}):
        return not _newly(heard, start)
    if heard.words[0] in ("no", "nope") and re.match(r"\W*\w+\s*,", text):
        return True
    if heard.words[0] == "not" and len(heard.sketch.amounts) > 1:
        return True  # "not two, three"
    return "not" in heard.words[1:] and len(heard) <= LONGEST_NOT and _instead(heard)


def _newly(heard: Heard, start: int) -> bool:
    """ "Sorry" and "not the" before something done are talk, not a correction."""
    verbs = [
        m for m in heard.sketch.layers.get("verb", ()) if str(m.value) not in ("have", "get", "went", "see")
    ]
    done = [
        m
        for m in verbs
        if m.start >= heard.at[start] and heard.sketch.words[m.start].endswith(("ed", "fed", "ing"))
    ]
    return bool(done) and heard.words[start] in ("sorry", "oops", "whoops", "rather", "not", "wrong")


def _instead(heard: Heard) -> bool:
    """ "Three, not two", "the tub, not the tote": the same sort of thing on both sides of "not"."""
    sketch = heard.sketch
    at = heard.at[heard.words.index("not", 1)]
    things = sketch.layers.get("thing", ())
    for layer in (sketch.amounts, sketch.places, sketch.days, things):
        if any(m.end <= at for m in layer) and any(m.start > at for m in layer):
            return not any(heard.sketch.words[m.start].endswith("ed") for m in sketch.layers.get("verb", ()))
    return False


def _tells(heard: Heard, part: range) -> bool:
    """Whether a part says something that a note would: a deed, a thing, a reading."""
    if not len(part) or heard.words[_front(heard, part)] in HINGES:
        return False
    span = heard.inside(part.start, part.stop)
    layers = (
        "verb",
        "thing",
        "moisture",
        "smell",
        "progress",
        "leftover",
        "worms",
        "gatherings",
        "room",
        "instrument",
    )
    told = any(heard.sketch.within(layer, *span) for layer in layers)
    return told or any(span[0] <= a.start < span[1] and a.unit for a in heard.sketch.amounts)


def _answered(heard: Heard, lexicon: Lexicon, parts: Sequence[range], asked: Sequence[bool]) -> bool:
    """Whether the keeper answers the question: "did I feed this side? No, the other"."""
    after = [part for part, before in zip(parts[1:], asked, strict=False) if before]
    return any(_starts(heard, lexicon, "reply", part.start) for part in after)


def _inner(heard: Heard, lexicon: Lexicon) -> Sort:
    """A question inside a line without a stop: "fed the tub a cup of rinds how much is that this week"."""
    for i in range(max(3, len(heard) - REACH * 2), len(heard) - 2):
        if heard.words[i] not in ASKING | {"did", "should", "whats"} or _mused(heard, lexicon, i):
            continue
        if _put(heard, i, len(heard)) and _tells(heard, range(i)):
            return "both"
    return "note"


def _mused(heard: Heard, lexicon: Lexicon, i: int) -> bool:
    before = heard.words[max(0, i - 2) : i]
    return any(one.row["sense"] == "musing" for one in phrases(lexicon, "lines").all(before))
