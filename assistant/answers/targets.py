"""Which bins and tiers a question is about; a bin that the log has not got is named, not guessed at."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from assistant.answers.facts import Facts
from assistant.answers.phrases import Heard, phrases, plain
from assistant.answers.query import Spot
from assistant.reading.places import iter_bins, position
from assistant.reading.sketch import Place
from assistant.records import Bin

POINTING = frozenset(("it", "its", "here"))
PLAIN_BINS = frozenset("bin bins worm farm system unit stack wormery".split())
COUNTED = frozenset("bin tote tub box bucket bed row windrow crate".split())


@dataclass(slots=True)
class Targets:
    """`spots`: bins and tiers named; `unknown`: a bin or tier that is not there; `taken`: what was guessed.

    `words` are the indexes, in the `Heard`, of what names them.
    """

    spots: list[Spot] = field(default_factory=list)
    unknown: str = ""
    taken: list[str] = field(default_factory=list)
    words: set[int] = field(default_factory=set)
    each: bool = False


def targets(heard: Heard, facts: Facts, here: str | None, until: range) -> Targets:
    """The places named in the words of `until`; `here` is the bin that a bare tier belongs to."""
    found = Targets()
    span = heard.inside(until.start, until.stop) if len(until) else (0, 0)
    places = [p for p in heard.sketch.places if span[0] <= p.start < span[1]]
    bins = {one.name: one for one in facts.bins}
    named = [p.bin for p in places if p.bin and not _pointing(heard, p)]
    for place in places:
        found.words |= heard.covered([(place.start, place.end)])
        if _pointing(heard, place) and not place.tiers:
            continue
        unknown = _stranger(heard, facts, place)
        if unknown:
            found.unknown = unknown
            continue
        if place.spread:
            found.each = True
            found.spots += [Spot(name) for name in iter_bins(place.word) if name in bins]
            continue
        if place.bin and not place.tiers:
            found.spots.append(Spot(place.bin))
            continue
        _tiers(found, heard, place, bins, place.bin or (named[0] if len(set(named)) == 1 else None), here)
    _merge(found)
    if not found.spots and not found.unknown:
        found.unknown = _unplaced(heard, facts, until, places)
    return found


def pointing(words: Sequence[str]) -> bool:
    """Whether words point to a bin without naming it: "it", "in there", "this bin"."""
    pairs = set(pairwise(words))
    there = ("in", "there") in pairs
    return (
        there
        or bool(POINTING & set(words))
        or any(a in ("this", "that") and b in PLAIN_BINS for a, b in pairs)
    )


def _pointing(heard: Heard, place: Place) -> bool:
    """Whether it is only "this bin", which any bin may be."""
    words = heard.sketch.words
    before = words[place.start - 1] if place.start else ""
    own = words[place.start : place.end]
    return len(own) == 1 and own[0] in PLAIN_BINS and before in ("this", "that", "the", "my", "our")


def _tiers(
    found: Targets, heard: Heard, place: Place, bins: dict[str, Bin], named: str | None, here: str | None
) -> None:
    """Add the tiers of a place: of the bin named, the one with tiers, or the one spoken of last."""
    stacked = [one for one in bins.values() if one.tiers > 1]
    if named:
        owner: Bin | None = bins[named]
    elif len(stacked) == 1:
        owner = stacked[0]
    else:
        owner = next((one for one in stacked if one.name == here), stacked[0] if stacked else None)
        if owner:
            found.taken.append(f"taken as the {owner.name}, of {len(stacked)} bins with tiers")
    said = " ".join(heard.sketch.words[place.start : place.end])
    for rank in place.tiers:
        tier = position(rank, owner.tiers) if owner else None
        if owner is None:
            found.unknown = said
        elif owner.tiers == 1:
            found.spots.append(Spot(owner.name))
        elif tier is None:
            counted = said.split()[0] in COUNTED
            found.unknown = (
                said if counted else f"the {said} of the {owner.name}, which has {owner.tiers} tiers"
            )
        else:
            found.spots.append(Spot(owner.name, tier))


def _merge(found: Targets) -> None:
    """ "The top tray of the tower" is one place: a bin whose tier is named as well drops out."""
    tiered = {spot.bin for spot in found.spots if spot.tier is not None}
    found.spots = list(dict.fromkeys(s for s in found.spots if s.tier is not None or s.bin not in tiered))


def _stranger(heard: Heard, facts: Facts, place: Place) -> str:
    """ "The old tower" is not the tower."""
    words = heard.sketch.words
    before = words[place.start - 1] if place.start else ""
    row = phrases(facts.lexicon, "adjectives").whole([plain(before)])
    if not place.bin or place.tiers or row is None or row["sense"] != "otherbin":
        return ""
    name = " ".join(words[place.start - 1 : place.end])
    known = {one.lower() for bin_ in facts.bins for one in (bin_.name, *bin_.also)}
    return "" if name in known else name


def _unplaced(heard: Heard, facts: Facts, until: range, places: Sequence[Place]) -> str:
    """A bin that is named and that the set-up has not got: "the blue tub"; empty for "which bin"."""
    taken = {i for p in places for i in range(p.start, p.end)}
    for i in _binnouns(heard, until):
        if i in taken:
            continue
        words = heard.sketch.words
        before = words[i - 1] if i else ""
        table = phrases(facts.lexicon, "adjectives")
        own, row = table.whole([plain(words[i])]), table.whole([plain(before)])
        if own and own["sense"] == "storage":
            continue
        if row and row["sense"] == "otherbin" and i > 1 and words[i - 2] in ("the", "my", "our", "that"):
            return f"{before} {words[i]}"
        lone = len(facts.bins) == 1 or words[i] in PLAIN_BINS
        if (
            before in ("the", "that", "my", "our")
            and not lone
            and words[i] not in ("tray", "trays", "bed", "bag")
        ):
            return words[i]
    return ""


def _binnouns(heard: Heard, until: range) -> Iterator[int]:
    """The words for a bin in the words of `until`, as indexes of the sketch."""
    if not len(until):
        return
    start, end = heard.inside(until.start, until.stop)
    for mention in heard.sketch.within("binnoun", start, end):
        yield mention.start
