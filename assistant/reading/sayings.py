"""Sayings that carry no weight, gone before a note is read: "let me see", "go ahead and", "there we go".

They may stand in the middle of a sentence ("that was, let me see, four pounds") and would part what belongs
together. The words are data: `lexicon/words/sayings.csv` tells what is read in their place.
"""

from __future__ import annotations

import re

from assistant.reading.mend import Mended, rewritten
from lexicon import Lexicon

_BLANKS = r"[^\S\n]{2,}"


class Sayings:
    """The sayings of the lexicon, ready to be taken out of a text."""

    def __init__(self, lexicon: Lexicon) -> None:
        rows = lexicon.table("sayings")
        self._put = {form.strip(): row["put"] for row in rows for form in row["form"].split(";")}
        forms = sorted(self._put, key=len, reverse=True)
        said = "|".join(re.escape(form).replace("\\ ", r"\s+").replace("'", "['’]") for form in forms)
        self._found = re.compile(rf"\b(?:(?P<said>{said})\b,?\s?)|{_BLANKS}", re.IGNORECASE)

    def without(self, text: str) -> Mended:
        """The text with no saying in it and one blank between two words, and the way back."""
        return rewritten(text, [(m.start(), m.end(), self._instead(m)) for m in self._found.finditer(text)])

    def _instead(self, match: re.Match[str]) -> str:
        """What is read for a match: for a saying what the lexicon puts, for a run of blanks one."""
        if match["said"] is None:
            return " "
        put = self._put[" ".join(match["said"].lower().replace("’", "'").split())]
        blank = " " if match.group()[-1:].isspace() and put else ""
        return put + blank
