"""A change of a note's words, and what those who look for changes share."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from assistant.reading.between import FAINT, STRONG, WEAK, Between, Betweens
from assistant.reading.sketch import Sketch

BACK = {FAINT: 2, WEAK: 9, STRONG: 16}
"""How many words back what is corrected may stand."""

ENDS = frozenset((".", ",", ";", "!", "?", ")", "\n"))
_PAUSES = frozenset((",", ".", "(", "...", "…", "–", "-"))


@dataclass(frozen=True, slots=True)
class Edit:
    """`words[start:end]` are read as `text`."""

    start: int
    end: int
    text: str


class Around:
    """A note's words and what stands at them."""

    def __init__(self, sketch: Sketch, betweens: Betweens) -> None:
        self.s, self.words, self.b = sketch, sketch.words, betweens

    def cut(self, run: Between, end: int) -> list[Edit]:
        """The words of the correction, gone; a pause stays where one stood before them."""
        start = run.start
        while start and self.words[start - 1] in _PAUSES:
            start -= 1
        if self.word(end) == ")":
            end += 1
        for after in ("actually", "altogether", "sorry"):
            end += self.word(end) == after
        return [Edit(start, end, "")]

    def things(self, start: int, end: int) -> list[Any]:
        """The things named in `words[start:end]`."""
        return self.s.within("thing", max(0, start), end)

    def ends(self, i: int) -> bool:
        """Whether a pause or the note's end stands at `i`."""
        return i >= len(self.words) or self.words[i] in ENDS

    def word(self, i: int) -> str:
        """The word at `i`, "" outside the note."""
        return self.words[i] if 0 <= i < len(self.words) else ""
