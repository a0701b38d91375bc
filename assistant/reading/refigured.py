"""Figures that a note says anew: "two handfuls of kale, no, three", "a core, no wait, just half of one"."""

from __future__ import annotations

from assistant.reading.amounts import AmountSpan, Measures, find_amounts
from assistant.reading.between import FAINT, STRONG, WEAK, Between, Betweens
from assistant.reading.edits import BACK, ENDS, Around, Edit
from assistant.reading.sketch import Sketch

_LEAD = 5
"""How many words of no weight may lead to the new figure."""

_DEGREES = frozenset(("degree", "degF", "degC"))
_APART = ("percent", "pH", "min", "inch", "cm")
_OPEN = frozenset("and in on to plus".split())
_OF_IT = (["of", "one"], ["of", "it"])


class Figures(Around):
    """Looks for a figure on both sides of a correction."""

    def __init__(self, sketch: Sketch, betweens: Betweens, measures: Measures) -> None:
        super().__init__(sketch, betweens)
        self.measures = measures

    def twice(self, i: int) -> Edit | None:
        """ "call it three, three handfuls": the second one is the figure."""
        span = self.s.starting("amount", i)
        if span is None or self.words[i] != "call":
            return None
        said = self.words[i : span.end]
        again = next((k for k in range(3, len(said)) if said[k] == said[2]), None)
        return Edit(i, i + again, "") if again else None

    def corrected(self, run: Between) -> list[Edit]:
        """The edits that put the new figure in the place of the old one."""
        new = self._figure(run)
        if new is None:
            return []
        old = self._old_figure(run, new)
        if old is None:
            return self._whole(run, new)
        if self._headed(new) and self._touches(old, run, new):
            return [Edit(old.start, new.start, ""), *self._loose_comma(new.end)]
        text = self._merged(old, new)
        sure = run.strength > FAINT or self._close(old, run) or self.word(new.end) == "actually"
        if text is None or not sure:
            return []
        return [Edit(old.start, old.end, text), *self.cut(run, new.end)]

    def _figure(self, run: Between) -> AmountSpan | None:
        """The amount that the correction leads to, past a few words of no weight."""
        strong = run.strength == STRONG and self.word(run.end - 1) != "."
        for i in range(run.end, min(len(self.words), run.end + (_LEAD if strong else 1))):
            found: AmountSpan | None = self.s.starting("amount", i)
            if found is not None:
                new = any(self.b.at(self.words, k, "added") for k in range(i, found.end))
                return None if found.currency or new else found
            if self._weighty(i):
                break
        inner: AmountSpan | None = self.s.covering("amount", run.end - 1)  # "more like three" hedges it
        if inner and inner.start > run.start and inner.end > run.end:
            return inner
        return self._summed(run) if strong else None

    def _summed(self, run: Between) -> AmountSpan | None:
        """ "actually no that's the last of it so two handfuls"."""
        for i in range(run.end, min(len(self.words) - 1, run.end + _LEAD + 2)):
            if self.words[i] in (".", "?", "!"):
                return None
            if self.words[i] == "so":
                found: AmountSpan | None = self.s.starting("amount", i + 1)
                return found if found and (found.unit or self._headed(found)) else None
        return None

    def _weighty(self, i: int) -> bool:
        word = self.words[i]
        if word in (".", "?", "!") or self.b.at(self.words, i, "added"):
            return True
        return any(self.s.covering(x, i) for x in ("thing", "place", "day"))

    def _old_figure(self, run: Between, new: AmountSpan) -> AmountSpan | None:
        floor = run.start - BACK[max(run.strength, WEAK)]
        for old in reversed(self.s.amounts):
            if old.end > run.start or old.currency:
                continue
            if old.end <= floor:
                return None
            if self._crossed(old.end, run.start):
                return None
            if _alike(old, new) and (new.unit in (None, *_DEGREES) or not self._read_off(old)):
                return old
        return None

    def _read_off(self, old: AmountSpan) -> bool:
        """ "temp was 70": a bare figure behind an instrument is a reading, no measure of anything put in."""
        near = self.s.within("instrument", max(0, old.start - 4), old.start)
        return old.unit is None and bool(near)

    def _crossed(self, start: int, end: int) -> bool:
        """Whether another place is opened in between: the figure before it is of somewhere else."""
        return any(p.start >= start and p.end <= end and not p.after for p in self.s.places)

    def _headed(self, new: AmountSpan) -> bool:
        """Whether the thing measured is said after the new figure."""
        i = new.end
        if i < len(self.words) and self.words[i] == ",":
            return self.word(i + 1) == "of"
        if self.word(i) == "of":
            return True
        return any(self.s.starting("thing", k) for k in (i, i + 1, i + 2) if not self._stops(i, k))

    def _stops(self, start: int, k: int) -> bool:
        return any(w in ENDS or w in _OPEN for w in self.words[start:k])

    def _touches(self, old: AmountSpan, run: Between, new: AmountSpan) -> bool:
        """Whether nothing of another sort stands between the two figures."""
        head = self.things(new.end, new.end + 4)
        names = {t.name for m in head for t in m.value}
        topics = {t.topic for m in head for t in m.value}
        between = self.things(old.end, run.start)
        if run.strength == FAINT:
            return run.start - old.end == 0 and not between
        return all(
            names & {t.name for t in m.value} or topics & {t.topic for t in m.value} for m in between
        ) and not any(m.start >= old.end for m in self.s.within("verb", old.end, run.start))

    def _close(self, old: AmountSpan, run: Between) -> bool:
        return run.start - old.end <= 1 or all(w in ENDS for w in self.words[old.end : run.start])

    def _merged(self, old: AmountSpan, new: AmountSpan) -> str | None:
        """The new figure with the old unit where it says none of its own."""
        said = self.words[new.start : new.end]
        if said[-1:] == ["."]:  # "1 pt."
            said = said[:-1]
        if said[-2:] in _OF_IT:
            said = said[:-2]
        if new.unit is not None or old.unit is None:
            return " ".join(said)
        unit = self.words[old.start + 1 : old.end]
        for k in range(len(unit)):
            for end in range(len(unit), k, -1):
                words = [*said, *unit[k:end]]
                read = find_amounts(words, self.measures)
                if len(read) == 1 and (read[0].unit, read[0].best) == (old.unit, new.best):
                    return " ".join(words)
        return None

    def _whole(self, run: Between, new: AmountSpan) -> list[Edit]:
        """ "a blended pineapple core no wait just half of one": the share goes before the article."""
        things = self.things(run.start - 4, run.start)
        of_it = self.words[new.end : new.end + 2] in _OF_IT
        if not things or new.unit is not None or run.strength < WEAK or (self._headed(new) and not of_it):
            return []
        thing = things[-1]
        article = next(
            (k for k in range(thing.start - 1, thing.start - 4, -1) if self.word(k) in ("a", "an", "one")),
            None,
        )
        if article is None or any(self.s.covering("verb", k) for k in range(thing.end, run.start)):
            return []
        end = new.end + 2 if of_it else new.end
        text = " ".join(w for w in self.words[new.start : new.end] if w not in ("of", "one", "just"))
        after = article + 1 + (self.word(article + 1) in ("whole", "entire", "full"))
        return [Edit(article, after, f"{text} a" if new.best < 1 else text), *self.cut(run, end)]

    def _loose_comma(self, end: int) -> list[Edit]:
        return [Edit(end, end + 1, "")] if self.word(end) == "," and self.word(end + 1) == "of" else []


def _alike(old: AmountSpan, new: AmountSpan) -> bool:
    """Whether two figures may be of one thing: degrees with degrees, percents with percents."""
    if new.unit is None or old.unit is None or new.unit == old.unit:
        return True
    if new.unit in _DEGREES or old.unit in _DEGREES:
        return new.unit in _DEGREES and old.unit in _DEGREES
    return new.unit not in _APART and old.unit not in _APART
