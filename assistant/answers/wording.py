"""Days, places, kinds and records in words. The one place where answers are put into sentences' parts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from assistant.balance.wording import ago_words
from assistant.records import Entry, Record, SetUp
from assistant.wording import STATES, what

SAID = {
    "feed": ("feeding", "feedings"),
    "bed": ("bedding", "bedding"),
    "water": ("watering", "waterings"),
    "drain": ("draining", "drainings"),
    "amend": ("amendment", "amendments"),
    "move": ("move", "moves"),
    "remove": ("removal", "removals"),
    "turn": ("turning", "turnings"),
    "harvest": ("harvest", "harvests"),
    "cover": ("cover", "covers"),
    "treat": ("treatment", "treatments"),
    "restack": ("change of trays", "changes of trays"),
    "start": ("start", "starts"),
    "refresh": ("bedding change", "bedding changes"),
    "worms_added": ("worms added", "worms added"),
    "worms_removed": ("worms taken out", "worms taken out"),
    "prepare": ("stock made ready", "stock made ready"),
    "buy": ("purchase", "purchases"),
    "sell": ("sale", "sales"),
    "give": ("gift", "gifts"),
    "check": ("check", "checks"),
    "moisture": ("moisture", "moisture"),
    "temperature": ("temperature", "temperature"),
    "ph": ("pH", "pH"),
    "sighting": ("sighting", "sightings"),
    "leftover": ("food left", "food left"),
    "progress": ("progress", "progress"),
    "smell": ("smell", "smell"),
    "worm_estimate": ("worm estimate", "worm estimates"),
    "remark": ("remark", "remarks"),
}
"""A kind of record, one and several."""
MOST_LINES = 8
"""So many records are written out under the first line of an answer."""


def day_words(day: str | date) -> str:
    """ "18 March 2026"."""
    moment = date.fromisoformat(day[:10]) if isinstance(day, str) else day
    return f"{moment.day} {moment:%B} {moment.year}"


def ago(day: str | date, today: date) -> str:
    """How long before (or after) today a day is."""
    moment = date.fromisoformat(day[:10]) if isinstance(day, str) else day
    days = (today - moment).days
    if days >= 0:
        return ago_words(days)
    return "tomorrow" if days == -1 else f"in {-days} days"


def period_words(first: date | None, last: date | None) -> str:
    """ "16 to 22 March 2026", "since 1 January 2026"; empty where both ends are open."""
    if first and last:
        if first == last:
            return day_words(first)
        head = f"{first.day} {first:%B}"
        if first.year != last.year:
            head += f" {first.year}"
        elif first.month == last.month:
            head = str(first.day)
        return f"{head} to {day_words(last)}"
    if first:
        return f"since {day_words(first)}"
    return f"up to {day_words(last)}" if last else ""


def tier_words(tier: int, bin_name: str | None, setup: SetUp) -> str:
    """A tier as the keeper would say it: its own name, else top, bottom or its number from the top."""
    known = next((one for one in setup if one.name == bin_name), None)
    own = dict(known.tier_names).get(tier) if known else None
    if own:
        name = own[0]
        return name if len(name.split()) > 1 else f"{name} tray"
    if tier == 1:
        return "top tray"
    if known and known.tiers > 1 and tier == known.tiers:
        return "bottom tray"
    return "middle tray" if known and known.tiers == 3 and tier == 2 else f"tray {tier}"


def place_words(bin_name: str | None, tier: int | None, setup: SetUp) -> str:
    """ "bottom tray of the tower", "the tower"; empty for no place."""
    if tier is not None:
        held = tier_words(tier, bin_name, setup)
        return f"{held} of {_the(bin_name)}" if bin_name else held
    return _the(bin_name) if bin_name else ""


def _the(name: str) -> str:
    words = name.split()
    own = words[0].lower() in ("the", "my", "our") or words[-1].isdigit() or name[:1].isupper()
    return name if own else f"the {name}"


def kinds_words(kinds: Sequence[str], items: Sequence[str] = (), state: str = "done") -> str:
    """ "feedings of melon rind", "planned feedings"; "everything" for no kind in particular."""
    said = " and ".join(dict.fromkeys(SAID[kind][1] for kind in kinds[:4])) if kinds else ""
    about = " or ".join(items)
    words = f"{said}: {about}" if said and about else said or about or "everything"
    return f"{STATES[state]} {words}" if state in STATES else words


def count_words(count: int, kinds: Sequence[str]) -> str:
    """ "3 feedings", "1 feeding"; "3 records" for several kinds."""
    one, many = SAID[kinds[0]] if len(kinds) == 1 else ("record", "records")
    return f"{count} {one if count == 1 else many}"


def where_words(record: Record, setup: SetUp) -> str:
    """Where a record says it was, with its spot."""
    place = place_words(record.bin, None if record.kind == "restack" else record.tier, setup)
    return ", ".join(filter(None, (place, record.spot)))


def tell(entries: Sequence[Entry], setup: SetUp) -> str:
    """What some records say, with their places: "fed 1 cup coffee grounds and 3 banana peel, bottom tray"."""
    by: dict[str, list[str]] = {}
    for entry in entries:
        held = by.setdefault(where_words(entry.record, setup), [])
        words = what(entry.record)
        if words not in held:
            held.append(words)
    return "; ".join(", ".join(filter(None, (joined(_short(words)), place))) for place, words in by.items())


def _short(words: Sequence[str]) -> Iterator[str]:
    """The same verb is said once: "fed kale", "rice"."""
    before = ""
    for one in words:
        verb, _, rest = one.partition(" ")
        yield rest if verb == before and rest else one
        before = verb


def line(entry: Entry, setup: SetUp) -> str:
    """A record as a line: day, what, where."""
    record = entry.record
    day = entry.day if record.when or record.state == "done" else "no day said"
    return f"{day}  {tell([entry], setup)}"


def lines(entries: Sequence[Entry], setup: SetUp) -> str:
    """The latest of some records under one another, and how many more there are; empty for none."""
    shown = [line(entry, setup) for entry in entries[-MOST_LINES:]]
    if len(entries) > MOST_LINES:
        shown.append(f"and {len(entries) - MOST_LINES} from before")
    return "".join(f"\n{one}" for one in shown)


def joined(words: Iterable[str]) -> str:
    """ "a, b and c"."""
    held = list(words)
    return " and ".join(filter(None, (", ".join(held[:-1]), held[-1]))) if held else ""


def cap(text: str) -> str:
    """A sentence's beginning."""
    return text[:1].upper() + text[1:]


def aside(words: str) -> str:
    """Words after a comma; empty for none."""
    return f", {words}" if words else ""


def guessed(taken: Sequence[str]) -> str:
    """What was taken for granted, in brackets; empty for nothing."""
    return f" ({'; '.join(taken)})" if taken else ""


def since(day: str, today: date) -> str:
    """A day and how long ago it is: "18 March 2026, 7 days ago"."""
    return f"{day_words(day)}, {ago(day, today)}"
