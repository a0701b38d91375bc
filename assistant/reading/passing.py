"""Places that are only named in passing, so that the walk does not go there: "the tub, not the tower"."""

from __future__ import annotations

from assistant.reading.placewords import PlaceWords
from assistant.reading.sketch import Place

NOT, UNSEEN, WAS = "not", "unseen", "was"
PASSING = frozenset((NOT, UNSEEN, WAS, "except"))
"""What `Place.after` says of such places."""

_LOOKING = frozenset(
    "look looked looking open opened opening check checked checking do did doing done touch touched see seen "
    "get got gotten getting reach reached at to in into inside even yet the a that my our down up".split()
)
_POINTING = frozenset(("that", "what", "which", "who"))
_PAST = frozenset(("was", "were", "used"))
_REACH, _NEAR = 6, 4


def passing(n: PlaceWords, place: Place, last: Place | None) -> str:
    """Why a place is none that the walk goes to; "" where it is one.

    Denied ("not the tower"), not looked at ("didn't open the bottom one"), or what another place was before
    ("the middle one that was the top"). `last` is the place before it.
    """
    j = place.start - 1
    while n.v.role(n.word(j), "det") and n.word(j) != "that":
        j -= 1
    if n.word(j) == "not" and n.word(j - 1) in ("", ",", ".", ";", "-", "–", "and", "but"):
        return NOT
    if (
        n.word(j) in _PAST
        and n.word(j - 1) in _POINTING
        and n.word(j - 2) not in ("", ",", ".", "sorry", "no")
    ):
        return WAS
    for k in range(place.start - 1, max(-1, place.start - 1 - _REACH), -1):
        word = n.word(k)
        if n.v.role(word, "negation") and k < place.start - 1:
            fronted = last is not None and k - last.end < _NEAR  # "the third I didn't touch | bottom one"
            return "" if fronted else UNSEEN
        if word not in _LOOKING:
            break
    return ""
