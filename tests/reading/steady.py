"""What must not change a reading: talk that records nothing around it, capitals and full stops."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from tests.reading.notesets import read

Json = Mapping[str, Any]

TALK_BEFORE = "Good morning everyone, hope you are all well.\n\n"
TALK_AFTER = "\n\nThanks for listening, bye for now."

CHANGES: dict[str, Callable[[str], str]] = {
    "talk before": lambda text: TALK_BEFORE + text,
    "talk after": lambda text: text + TALK_AFTER,
    "no capitals": str.lower,
    "no full stops": lambda text: re.sub(r"(?<=\w)\.(?=\s|$)", "", text),
    "neither": lambda text: re.sub(r"(?<=\w)\.(?=\s|$)", "", text).lower(),
}
"""What is done to a note's text; the records should say the same."""


def says(records: Iterable[Json]) -> Counter[str]:
    """What records say, whatever words of the note they come from."""
    aside = ("text", "start", "end", "unsure", "spot")
    return Counter(repr(sorted((k, v) for k, v in r.items() if k not in aside)) for r in records)


def steady(notes: Iterable[Json], change: Callable[[str], str]) -> list[tuple[str, bool]]:
    """Each note's id, and whether its records stay the same under a change of its text."""
    return [(note["id"], says(read(note)) == says(read(note, change(note["text"])))) for note in notes]
