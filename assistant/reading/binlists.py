"""Bins told together: "misted the tub and the cooler", "cooler, tub + stack: one cup each"."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.placewords import PlaceWords, spread
from assistant.reading.ranks import iter_bins
from assistant.reading.sketch import Place

_AND = frozenset(("and", "&", "+", "plus", "or", "nor"))
_OF_ONE = frozenset("is 's was has needs looks smells seems feels gets got had".split())
"""Said of one bin: "fed the tub and the cooler | is fine"."""


class BinLists:
    """Puts the bins of one note that are named in a row together as one place."""

    def __init__(self, words: PlaceWords) -> None:
        self.n, self.words = words, words.words

    def together(self, places: list[Place]) -> Iterator[Place]:
        """The places in order, each list of bins as one that is spread over them."""
        i = 0
        while i < len(places):
            end = self._end(places, i)
            run, i = places[i:end], end
            if len(run) == 1:
                yield run[0]
                continue
            names = dict.fromkeys(name for place in run for name in _bins(place))
            place = spread(run[0].start, run[-1].end, "|".join(names))
            place.after = run[0].after
            if i < len(places) and self._all_of_them(places[i]) and places[i].start == place.end:
                place.end, i = places[i].end, i + 1  # "tub and cooler both"
            yield place

    def _all_of_them(self, place: Place) -> bool:
        return place.spread and not place.bin and not place.tiers and not _bins(place)

    def _end(self, places: list[Place], i: int) -> int:
        """Where the list of bins that begins with place `i` ends: the last that "and" joins to it."""
        end, j = i + 1, i
        while j + 1 < len(places) and _bins(places[j]) and _bins(places[j + 1]):
            joined = self._joined(places[i], places[j], places[j + 1])
            if joined is None or (joined and self._apart(places[i], places[j + 1])):
                break
            j += 1
            end = j + 1 if joined else end
        return end

    def _joined(self, first: Place, last: Place, place: Place) -> bool | None:
        """Whether "and" joins two places; False for a comma, None where more stands between them."""
        between = [w for w in self.words[last.end : place.start] if w not in ("the", "my", "our")]
        if between[1:] == [first.after] or between[1:] == ["also"]:
            between = between[:1]  # "in the tub and in the cooler"
        if between == [","]:
            return False
        joined = len(between) == 1 and between[0] in _AND
        return True if joined or (between[:1] == [","] and between[1:] in ([w] for w in _AND)) else None

    def _apart(self, first: Place, place: Place) -> bool:
        """ "checked the tub and the cooler | is fine": a clause of its own that the last bin begins."""
        return first.after != "" and self.n.word(place.end) in _OF_ONE


def _bins(place: Place) -> list[str]:
    """The bins that a place names as wholes, none where it is a tier or something else."""
    if place.tiers or place.step:
        return []
    if place.spread:
        return list(iter_bins(place.word))
    return [place.bin] if place.bin else []
