"""The bins and tiers that a place means, given the one in hand: "the next one down", "the other tub"."""

from __future__ import annotations

from assistant.reading.draft import Target
from assistant.reading.numbers import cardinal
from assistant.reading.places import iter_bins, position
from assistant.reading.sketch import Place, Sketch
from assistant.records import Bin

_ENDS = frozenset(("top", "middle", "bottom"))
_SETTING_OUT = frozenset("start starting back go going now then so begin and".split())
_WITHIN = frozenset("in at on near through to of from into along across around by".split())
_OF_THEM = frozenset(("each", "them"))


class Targets:
    """The place in hand, those told of so far, and what a further place means beside them."""

    def __init__(self, sketch: Sketch) -> None:
        self.s = sketch
        self.bins = {b.name: b for b in sketch.setup}
        self.here: tuple[Target, ...] = (
            ((sketch.setup[0].name, None),) if len(sketch.setup) == 1 else ((None, None),)
        )
        self.seen: list[Target] = []
        self.told: dict[str, tuple[Target, ...]] = {}
        """The last place of which a state was told."""

    def targets(self, place: Place) -> tuple[Target, ...]:
        """The bins and tiers that a place means, given the one that holds now."""
        if place.word.startswith("told"):
            return self.told.get(place.word, self.here)
        if place.word.startswith("other") and not place.bin:
            return self._others(place)
        bins = tuple(iter_bins(place.word)) if place.spread else ()
        if bins:
            return tuple((b, None) for b in bins)
        if place.spread:
            return self._spread(place)
        bin_ = place.bin if place.bin else self.here[0][0]
        if place.bin and not place.tiers and not place.step:
            return ((bin_, None),)
        if self._floor(place, bin_):
            return self.here
        if place.step:
            return (self._stepped(place, bin_),)
        bin_ = self._with_tiers(bin_, place)
        return tuple((bin_, self._tier(rank, bin_, place)) for rank in place.tiers) or ((bin_, None),)

    def _others(self, place: Place) -> tuple[Target, ...]:
        """ "the other bin", "the others": bins or tiers that are not here."""
        bin_, tier = self.here[0]
        known = self.bins.get(bin_ or "")
        if known and known.tiers > 1 and (place.word == "other tier" or len(self.s.setup) == 1):
            rest = tuple((bin_, t) for t in range(1, known.tiers + 1) if (bin_, t) not in self.here)
            return rest if tier and (place.word == "others" or known.tiers == 2) else self.here
        names = {t[0] for t in self.here}
        told = [b for b in dict.fromkeys(t[0] for t in reversed(self.seen)) if b and b not in names]
        rest_ = [b.name for b in self.s.setup if b.name not in names]
        if place.word == "others":
            return tuple((b, None) for b in rest_) or self.here
        untold = [b for b in rest_ if b not in told]
        chosen = untold if len(untold) == 1 and not told else told or rest_
        return ((chosen[0], None),) if chosen else self.here

    def _floor(self, place: Place, bin_: str | None) -> bool:
        """ "a puddle in the bottom", "warm in the middle": a part of the tub or tray in hand, no tier."""
        word, lead = self.s.words[place.end - 1], self.s.words[place.start]
        hung = place.after in _WITHIN or (lead == "up" and self.s.words[place.start - 1] not in _SETTING_OUT)
        known = self.bins.get(bin_ or "")
        if place.bin or word not in _ENDS or known is None or place.end - place.start > 2:
            return False
        if known.tiers == 1 and (hung or not self._stack_seen()):
            return True  # "now the middle" of a bath, with the stack not yet spoken of
        if not hung:
            return False
        held = (
            self.here[0][1] is not None
            and place.after in ("in", "at", "on")
            and self.s.words[place.end - 2] != "very"
        )
        return held and (word == "bottom" or (word == "middle" and known.tiers % 2 == 0))

    def _stack_seen(self) -> bool:
        """Whether the note has spoken of a bin with tiers so far."""
        return any(known.tiers > 1 for t in self.seen if (known := self.bins.get(t[0] or "")))

    def _with_tiers(self, bin_: str | None, place: Place) -> str | None:
        """The bin that holds, or the only one with tiers where it has none: "tray two" is not of the tub."""
        stacks = [b.name for b in self.s.setup if b.tiers > 1]
        known = self.bins.get(bin_ or "")
        if place.bin or not place.tiers or (known and known.tiers > 1):
            return bin_
        if len(stacks) == 1:
            return stacks[0]
        last = [t[0] for t in self.seen if t[0] in stacks]
        return last[-1] if last else bin_

    def _spread(self, place: Place) -> tuple[Target, ...]:
        count = 2 if place.word == "both" else 99
        here = self.bins.get(place.bin or self.here[0][0] or "")
        if len(self.here) > 1 and (
            self.s.words[place.end - 1] in _OF_THEM or self._count(place) == len(self.here)
        ):
            return self.here  # "both floors ... a cup in each", "tub and cooler ... all of them"
        count_said = self._count(place)
        if (
            not place.bin
            and 1 < len(self.s.setup) == count_said
            and (here is None or here.tiers != count_said)
        ):
            return tuple((b.name, None) for b in self.s.setup)
        if place.tiers:
            return tuple(
                (b.name, self._tier(place.tiers[0], b.name, place)) for b in self.s.setup if b.tiers > 1
            )
        if count == 99 and not place.bin and here and here.tiers == 2 < len(self.s.setup):
            return tuple((b.name, None) for b in self.s.setup)  # "all of them": two would be both
        if here and here.tiers > 1 and (count == 99 or here.tiers == 2):
            return tuple((here.name, t) for t in range(1, min(here.tiers, count) + 1))
        if here and here.tiers > 1:
            last = list(dict.fromkeys(t for t in self.seen if t[0] == here.name and t[1]))[-2:]
            return tuple(last) if len(last) == 2 else self.here
        if len(self.s.setup) > 1:
            names = [b.name for b in self.s.setup]
            if count == 2 and len(names) > 2:
                names = list(dict.fromkeys(t[0] for t in self.seen if t[0]))[-2:]
            return tuple((n, None) for n in names)
        return self.here

    def _count(self, place: Place) -> int:
        """How many a spread place says it is: "both", "all three"; 0 where it does not say."""
        if place.word == "both":
            return 2
        return next((n for w in self.s.words[place.start : place.end] if (n := cardinal(w) or 0) > 1), 0)

    def _stepped(self, place: Place, bin_: str | None) -> Target:
        current = self.here[-1][1]
        known = self.bins.get(bin_ or "")
        if known is None or known.tiers == 1:
            return (bin_, None)
        wanted = (current or 1) + place.step
        return (bin_, wanted if 1 <= wanted <= known.tiers else current)

    def _tier(self, rank: int, bin_: str | None, place: Place) -> int | None:
        return self.position(rank, bin_, place)

    def position(self, rank: int, bin_: str | None, place: Place | None = None) -> int | None:
        """A rank's position in a bin; None, with a doubt, where the bin has no such tier."""
        known: Bin | None = self.bins.get(bin_ or "")
        if known is None:
            return rank if 1 <= rank < 100 and len(self.s.setup) != 0 else None
        if known.tiers == 1:
            return None
        found = position(rank, known.tiers)
        if found is None and place is not None:
            place.doubt = (
                f"{known.name} has {known.tiers} tiers: no tier {rank} there"
                if rank < 100
                else f"which tier of {known.name} is the middle one?"
            )
        return found
