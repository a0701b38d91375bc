"""Words that count, measure or only look so: the closed lists that the readers of amounts share."""

from __future__ import annotations

from collections.abc import Sequence

from assistant.reading.tokens import at

VAGUE = {"couple": (2, 2, 3), "few": (3, 3, 5), "several": (3, 5, 7), "pair": (2, 2, 2)}
ARTICLES = frozenset(("a", "an"))
ONES = ARTICLES | {"another"}
DETERMINERS = frozenset("the this that these those my our your his her their its each every".split())
ADJECTIVES = frozenset(
    "big small heaping heaped good large little tiny level full generous scant rounded huge whole more extra "
    "decent nice packed loose fat hefty healthy massive light wee short tall giant modest regular standard "
    "solid proper other fair heavy overflowing brimming additional metric imperial nearly quick".split()
)
# what is also a place, a thing or a verb: a count of these is an amount only with "of" after it
NEEDS_OF = frozenset(
    "tray bin box bed layer tier crate tote level drawer can section drum barrel hopper bathtub ibc cart "
    "skip pallet "
    "leaf stem stick ear pod head clove bulb stalk sprig teabag filter crust heel loaf pellet puck knot "
    "ball clump "
    "cube finger knuckle square fork shovel spade trowel pot dish glass plate bottle flask drop tablet "
    "container "
    "load pile stack roll".split()
)
# not one of it unless a number or an article says so
NOT_BARE = NEEDS_OF | frozenset(
    "bag tub sheet piece spray ton tonne yard min sack pack stack head strip".split()
)
NOT_ALONE = frozenset(("yard", "foot", "metre", "stone"))  # "a yard" is a place too
NOT_ONE = frozenset(("ton", "tonne", "load", "pile"))  # "a ton of worms" is no weight
UNCOUNTED = frozenset(("time", "temperature", "acidity", "share"))  # dimensions of which "a" is not one
METRIC = frozenset("mg g kg tonne ml cl dl litre mm cm metre".split())
IN_A_ROW = frozenset("tray tier level layer one box drawer bin floor shelf 's is".split())
"""What makes "second" before it a place in a row and no time."""
TIME = frozenset(
    "second seconds hour hours hr hrs day days night nights week weeks weekend weekends month months year "
    "years "
    "fortnight fortnights morning mornings evening evenings afternoon afternoons wk wks o'clock am pm "
    "a.m. p.m. "
    "times yr yrs decade decades monday tuesday wednesday thursday friday saturday sunday mondays tuesdays "
    "wednesdays thursdays fridays saturdays sundays".split()
)


def skip_adjectives(atoms: Sequence[str], i: int) -> int:
    """Past up to two words of size ("big heaping")."""
    for _ in range(2):
        if at(atoms, i) in ADJECTIVES:
            i += 1
    return i


def timed(words: Sequence[str], i: int) -> bool:
    """Whether a word of time stands at `i`: not in "fifty night crawlers", "sixty six second tray"."""
    if i >= len(words) or words[i] not in TIME:
        return False
    follows = words[i + 1] if i + 1 < len(words) else ""
    return not follows.startswith("crawler") and not (words[i] == "second" and follows in IN_A_ROW)
