"""What a look tells of a whole tier: how wet, how far along, what it smells of."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft
from assistant.reading.sketch import Mention

_SPONGE = frozenset("damp moist wet dry".split())
_NEGATIONS = frozenset("not n't never isn't no".split())
_TIER_WORDS = frozenset(
    "it it's this that one tray tier bin box layer level castings bottom top middle stuff compost drawer".split()
)
_SOFT = frozenset("bit little somewhat kinda touch slightly hair tad shade smidge".split())


def moisture(c: Context) -> Iterator[Draft]:
    """The moisture words of the clause that are said of the bin, not of a material ("dry leaves")."""
    yield from _moisture_fine(c)
    found = [
        m
        for m in c.here("moisture")
        if not _attributive(c, m) and not (set(range(m.start, m.end)) & c.clause.used)
    ]
    if not found:
        return
    best = found[0]
    for m in found[1:]:
        if m.start - best.end > 10:
            break
        if abs(m.value - 3) > abs(best.value - 3) and m.end - m.start >= 1:
            best = m
    level = best.value
    if level in (1.0, 5.0) and _SOFT & set(c.words[max(c.clause.start, best.start - 2) : best.start]):
        level = 2.0 if level == 1.0 else 4.0  # a step towards 3 (contract 5.26)
    negated = _NEGATIONS & set(c.words[max(c.clause.start, best.start - 3) : best.start])
    if negated and level != 3:
        if (
            c.word(best.start - 1) in ("too", "very", "that")
            or c.words[best.start] == "too"
            or level in (1.0, 4.0, 2.0)
        ):
            level = 3.0
        else:
            return
    elif negated:
        return
    for m in (found[0], best):
        c.clause.used.update(range(m.start, m.end))
    yield Draft(
        "moisture",
        found[0].start,
        found[-1].end if found[-1].start - found[0].end <= 10 else best.end,
        c.clause,
        level=level,
    )


_FINE = frozenset("good fine ok okay right perfect great ideal nice lovely".split())


def _moisture_fine(c: Context) -> Iterator[Draft]:
    """ "moisture's just right", "moisture ok", "fine for moisture"."""
    for i in range(c.clause.start, c.clause.end):
        if c.words[i] != "moisture" or any(m.start <= i < m.end for m in c.here("moisture")):
            continue
        around = (
            c.words[i + 1 : min(i + 5, c.clause.end)]
            if c.word(i - 1) != "for"
            else c.words[max(c.clause.start, i - 4) : i]
        )
        if (
            _FINE & set(around)
            and not {"not", "n't", "too"} & set(around)
            and not any(abs(m.start - i) <= 6 for m in c.here("moisture"))
        ):
            yield Draft("moisture", i, min(i + 4, c.clause.end), c.clause, level=3.0)
            return


def _attributive(c: Context, m: Mention) -> bool:
    """Whether the word stands before a material as its adjective, or is part of a saying about something else."""
    i = m.end
    while i < c.clause.end and c.words[i] in (
        "old",
        "little",
        "brown",
        "chopped",
        "shredded",
        "torn",
        "big",
        "fresh",
        "fallen",
        "crumbled",
        "fluffy",
        "-",
    ):
        i += 1
    before = c.word(m.start - 1)
    copula = c.vocabulary.role(before, "copula")
    if any(
        v.start < m.end and m.start < v.end and (v.value == "water" or (v.value == "prepare" and not copula))
        for v in c.here("verb")
    ) or before in ("boiled", "ran", "squeezed", "wrung", "sucked"):
        return True
    if "air" in c.words[max(c.clause.start, m.start - 4) : m.start]:
        return True
    if any(x.start <= i < x.end for x in c.items) and not c.vocabulary.role(before, "copula"):
        return True
    if c.word(i) in (
        "bedding",
        "stuff",
        "paper",
        "cardboard",
        "leaves",
        "sponge",
        "cloth",
        "rag",
        "towel",
        "sheet",
        "sheets",
        "sack",
        "spot",
        "hands",
        "material",
        "browns",
        "weight",
        "ones",
        "food",
        "scraps",
        "ice",
    ):
        return (
            not (c.vocabulary.role(before, "copula"))
            or (m.end - m.start == 1
            and c.word(i) in ("stuff", "hands", "cardboard"))
        )
    if (
        before in ("of", "some", "with", "more", "a", "my")
        and m.end - m.start == 1
        and c.word(i) not in ("", "but", "and")
    ):
        return True
    if (
        c.words[m.start] in ("dry", "drying", "soaking", "soaked", "damp", "wet")
        and c.word(m.start - 1) in ("to", "and")
        and c.word(m.start - 2) in ("dry", "left", "set", "out")
    ):
        return True
    return c.words[m.start : m.end] == ["drying"] and c.word(m.end) in ("on", "in")


def progress(c: Context) -> Iterator[Draft]:
    """How far a tier is finished: a word of progress said of a tier, or a share of castings."""
    yield from _share(c)
    for m in c.here("progress"):
        if set(range(m.start, m.end)) & c.clause.used:
            continue
        if m.end - m.start == 1 and not _of_tier(c, m):
            continue
        if (
            c.word(m.end) in ("with", "it", "feeding", "for", "eating", "to")
            and c.word(m.end + 1) != "me"
            and c.words[m.start] in ("done", "finished", "ready")
            and c.word(m.end) != "for"
        ):
            continue
        level = m.value
        if _NEGATIONS & set(c.words[max(c.clause.start, m.start - 3) : m.start]) and level == 1.0:
            level = 0.75 if "quite" in c.words[m.start - 2 : m.start] else 0.0
        c.clause.used.update(range(m.start, m.end))
        yield Draft("progress", _head(c, m.start), m.end, c.clause, level=level)
        return


_FINISHED = frozenset("castings done finished processed ready through complete".split())


def _share(c: Context) -> Iterator[Draft]:
    """ "three quarters done", "half castings", "80 percent finished"."""
    for span in c.amounts:
        share = (
            span.best / 100
            if span.unit == "percent"
            else span.best
            if span.unit is None and span.best <= 1
            else None
        )
        after = c.words[span.end : min(span.end + 4, c.clause.end)]
        if share is None or not 0 < share <= 1 or span.start in c.clause.used:
            continue
        along = "along" in c.words[max(c.clause.start, span.start - 2) : span.start]
        if not along and not (
            after
            and (
                after[0] in _FINISHED
                or (after[:2] in (["of", "the"], ["the", "way"])
                and (_FINISHED | {"way"}) & set(after))
                or after[:1] == ["way"]
            )
        ):
            continue
        if share == 1 and after[0] == "castings":
            continue
        c.use(span)
        end = span.end + 1 if after else span.end
        c.clause.used.update(range(span.end, end))
        for item in c.items:
            if span.end <= item.start < span.end + 4:
                c.taken.add(item.start)
        yield Draft("progress", _head(c, span.start), end, c.clause, level=round(share, 2))


def _of_tier(c: Context, m: Mention) -> bool:
    """Whether one word like "ready" or "done" speaks of a tier: a place or a pointer as its subject."""
    if any(i.topic in ("food", "unknown") and i.end <= m.start for i in c.items):
        return False
    if any(v.value not in ("get", "see") for v in c.here("verb") if v.end <= m.start):
        return False
    before = c.word(m.start - 1)
    copula = c.vocabulary.role(before, "copula") or before in (
        "looks",
        "both",
        "all",
        "about",
        "is",
        "fully",
        "just",
        "finally",
        "completely",
        "totally",
        "quite",
        "pretty",
        "really",
        "now",
        "already",
    )
    if c.clause.stance == "expected" and copula:
        return True
    if c.word(c.clause.start) in ("i", "we", "you", "i'm"):
        return False
    subject = bool(c.clause.places) or bool(_TIER_WORDS & set(c.words[c.clause.start : m.start]))
    lone = c.clause.end - c.clause.start <= 3 and bool(c.clause.places)
    return (copula and subject) or lone


def _head(c: Context, start: int) -> int:
    places = [p.start for p in c.clause.places if p.end <= start and start - p.end <= 6]
    return min(places, default=start)


def smell(c: Context) -> Iterator[Draft]:
    """A smell named by the lexicon, or the word said after "smells of" / "smells like"."""
    smelling = [v for v in c.here("verb") if v.value == "smell"] or (
        [m for m in c.here("smell")]
        if c.has(
            frozenset(
                (
                    "smell",
                    "smells",
                    "odor",
                    "odour",
                    "smelling",
                    "whiff",
                    "stink",
                    "nose",
                    "smelly",
                    "stinks",
                    "reek",
                    "breath",
                    "pong",
                )
            )
        )
        else []
    )
    named = [m for m in c.here("smell") if _smelled(c, m, bool(smelling))]
    if named:
        m = next((x for x in named if x.value not in ("none",)), named[0])
        if any(x.value == "none" for x in named) and m.value == "funky":
            m = next(x for x in named if x.value == "none")
        value = str(m.value)
        if value != "none" and _denied(c, m):
            value = "none"
        yield Draft("smell", min(m.start, named[0].start), m.end, c.clause, item=value)
        return
    for v in c.here("verb"):
        if v.value == "smell" and v.start not in c.clause.used:
            yield from _as_said(c, v)
            return


def _smelled(c: Context, m: Mention, smelling: bool) -> bool:
    """Whether a smell word is one here: with a word for smelling about, or unmistakable on its own."""
    if any(i.start <= m.start < i.end and i.topic in ("treatment", "food") for i in c.items) and not smelling:
        return False
    text = " ".join(c.words[m.start : m.end])
    gone_off = (
        m.value in ("rotten", "sour", "musty")
        and c.vocabulary.role(c.word(m.start - 1), "copula")
        and not any("food" in i.topics for i in c.items)
    )
    alone = (
        m.value in ("none", "ammonia")
        or gone_off
        or text.startswith(("smell", "like ", "going sour", "gone sour", "odor", "earthy", "vinegary"))
    )
    return smelling or alone


def _denied(c: Context, m: Mention) -> bool:
    return bool(_NEGATIONS & set(c.words[max(c.clause.start, m.start - 4) : m.start]))


def _as_said(c: Context, v: Mention) -> Iterator[Draft]:
    i = v.end
    while (
        c.word(i)
        in (
            "kind",
            "of",
            "like",
            "a",
            "the",
            "an",
            "bit",
            "little",
            "sort",
            "faintly",
            "strongly",
            "just",
            "so",
            "really",
            "some",
            "pretty",
            "it",
            "kinda",
            "them",
            "faint",
            "very",
        )
        and i < c.clause.end
    ):
        i += 1
    if (
        i >= c.clause.end
        or c.vocabulary.role(c.word(i), "subject", "prep", "conj", "and", "object")
        or not c.word(i).isalpha()
    ):
        return
    if (
        (c.word(v.end) in ("it", "them", "that")
        and c.word(v.end + 1) not in ("kind", "kinda", "like", "a", "sort"))
        or (c.vocabulary.role(c.word(v.start - 1), "det")
        and c.word(v.end) not in ("of", "like"))
    ):
        return
    negated = _NEGATIONS & set(c.words[max(c.clause.start, v.start - 3) : v.start])
    word = c.word(i)
    good = word in ("fine", "good", "okay", "ok", "great", "clean", "nothing", "anything")
    yield Draft("smell", v.start, i + 1, c.clause, item="none" if negated or good else word)
