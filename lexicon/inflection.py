"""The other number of an English noun phrase: regular rules here, the exceptions in irregular.csv."""

from __future__ import annotations

from functools import cache
from pathlib import Path

_JOINTS = (" of ", " on ", " in ", " with ")  # the noun stands before these: "sheets of newspaper"
_HISSING = ("s", "x", "z", "ch", "sh")


@cache
def _irregular() -> dict[str, str]:
    """Word -> its other number, both ways; a word that has none maps to nothing."""
    found: dict[str, str] = {}
    text = (Path(__file__).parent / "irregular.csv").read_text(encoding="utf-8")
    for line in text.splitlines()[1:]:
        word, _, other = line.partition(",")
        found[word] = other
        if other:
            found.setdefault(other, word)
    return found


def _other_number(word: str) -> str:
    """`word` in its other number, or nothing where it has none."""
    if word in _irregular():
        return _irregular()[word]
    if not word[-1:].isalpha():
        return ""
    if word.endswith("s") and not word.endswith(("ss", "us", "is")):
        if word.endswith("ies") and len(word) > 4:
            return word[:-3] + "y"
        if word.endswith(("oes", "xes", "ches", "shes", "sses", "zzes")) and len(word) > 4:
            return word[:-2]
        return word[:-1] if len(word) > 3 else ""
    if word.endswith("y") and word[-2:-1] not in tuple("aeiou") and len(word) > 1:
        return word[:-1] + "ies"
    return word + ("es" if word.endswith(_HISSING) else "s")


def inflect(form: str) -> tuple[str, ...]:
    """`form` with its other number: "rind" gives ("rinds",), "loaves" ("loaf",).

    Only the last word changes, or the one before "of". Empty where the word has one number only ("grounds").
    """
    if form in _irregular():
        return tuple(filter(None, (_irregular()[form],)))
    at = min((i for i in map(form.find, _JOINTS) if i > 0), default=len(form))
    head, rest = form[:at], form[at:]
    lead, _, last = head.rpartition(" ")
    other = _other_number(last)
    return (f"{lead} {other}{rest}".strip(),) if other else ()
