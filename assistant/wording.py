"""Records and bins in plain words, one line each; every line of a receipt, on any screen, comes from here.

    line(entry)     "fed 2 handfuls of kale, cellar stack, tier 2 from the top, 14 June; guessed: the day"
    bin_line(bin)   "cellar stack (3 tiers), also called the stack"
    due_line(due)   "14 June 2026: add a little water, cellar stack, top tier (dry at the last look, today)"

The words are the keeper's and not yet safe for a terminal: show them through `assistant.exchange.clean`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import asdict
from datetime import datetime
from typing import TYPE_CHECKING, Any

from assistant.balance.spread import Spread
from assistant.balance.wording import MOISTURE, SIGHTING, figure, spread_words, unit_words
from assistant.records import READINGS, Amount, Bin, Entry, Record

if TYPE_CHECKING:
    from assistant.outlook import Due

ACTS: Mapping[str, tuple[str, str, str]] = {  # kind -> (done, to do, what where no item is said)
    "feed": ("fed {}", "feed {}", ""),
    "bed": ("bedded with {}", "bed with {}", "bedding"),
    "water": ("gave {}", "give {}", "water"),
    "drain": ("drained {}", "drain {}", "leachate"),
    "amend": ("amended with {}", "amend with {}", "an amendment"),
    "move": ("moved {}", "move {}", "material"),
    "remove": ("took out {}", "take out {}", "material"),
    "turn": ("turned {}", "turn {}", "the bedding"),
    "harvest": ("harvested {}", "harvest {}", "castings"),
    "cover": ("covered with {}", "cover with {}", "a cover"),
    "uncover": ("took off {}", "take off {}", "the cover"),
    "treat": ("treated with {}", "treat with {}", "a treatment"),
    "start": ("started the bin {}", "start the bin {}", ""),
    "refresh": ("renewed the bedding {}", "renew the bedding {}", ""),
    "worms_added": ("put in {}", "put in {}", "worms"),
    "worms_removed": ("took out {}", "take out {}", "worms"),
    "prepare": ("made ready {}", "make ready {}", "material"),
    "buy": ("bought {}", "buy {}", "something"),
    "sell": ("sold {}", "sell {}", "something"),
    "give": ("gave away {}", "give away {}", "something"),
    "check": ("looked at {}", "look at {}", "the bin"),
}
LEFT = {1.0: "untouched", 0.75: "most of it left", 0.5: "half left", 0.25: "a little left", 0.0: "all gone"}
FINISHED = {1.0: "ready", 0.75: "nearly ready", 0.5: "half done", 0.25: "just starting", 0.0: "not started"}
SIGNS = {"degF": "°F", "degC": "°C", "percent": "%"}


def line(entry: Entry) -> str:
    """A record in one line of plain words, with what was guessed said as such."""
    record = entry.record
    parts = [what(record), *_where(record), *_when(record, entry.said_on)]
    if entry.at is not None:
        parts.append(f"at {entry.at // 60:.0f}:{entry.at % 60:02.0f} in the recording")
    words = ", ".join(filter(None, parts))
    return f"{words}; guessed: {', '.join(record.unsure)}" if record.unsure else words


def bin_line(bin_: Bin) -> str:
    """A bin of the set-up: its name, its tiers, and what else it is called."""
    tiers = f" ({bin_.tiers} tiers)" if bin_.tiers > 1 else ""
    also = f", also called {' or '.join(bin_.also)}" if bin_.also else ""
    return f"{bin_.name}{tiers}{also}"


def due_line(due: Due) -> str:
    """Something that is due: the day, what to do and where, and why."""
    day = day_words(due.day, "") if due.day else "no day set"
    where = ", ".join(filter(None, (due.what, due.bin, tier_words(due.tier) if due.tier else "")))
    return f"{day}: {where} ({due.why})" if due.why else f"{day}: {where}"


def due_json(due: Due) -> dict[str, Any]:
    """Something that is due, as plain data under the names of its fields."""
    return {**asdict(due), "records": list(due.records)}


def what(record: Record) -> str:
    """What was done or seen, without place and day: "planned: feed 2 handfuls of kale"."""
    if record.kind == "remark":
        return f"noted: {' '.join(record.text.split())}"
    if record.kind in READINGS:
        said = _seen(record)
        return f"{STATES[record.state]}: {said}" if record.state != "done" else said
    done, to_do, _ = ACTS.get(_act(record), ("", "", ""))
    if record.kind == "restack":
        done, to_do = _restacked(record)
    price = f" for {figure(record.price.value)} {record.price.currency}" if record.price else ""
    thing = _thing(record)
    if record.state == "ruled_out":
        return "did not " + to_do.format(thing).strip() + price
    if record.state == "done":
        return done.format(thing).strip() + price
    return f"{STATES[record.state]}: " + to_do.format(thing).strip() + price


STATES = {"planned": "planned", "expected": "expected", "ruled_out": "ruled out"}


def tier_words(tier: int) -> str:
    """A position in a stack, counted from the top."""
    return "top tier" if tier == 1 else f"tier {tier} from the top"


def amount_said(amount: Amount) -> str:
    """An amount in its own unit: "2 handfuls", "2.5 (2 to 3) cups", "61 °F", "pH 6.8"."""
    spread = spread_words(Spread(amount.low, amount.best, amount.high))
    if amount.unit == "pH":
        return f"pH {spread}"
    if amount.unit in SIGNS:
        return f"{spread} {SIGNS[amount.unit]}"
    return f"{spread} {unit_words(amount.unit, amount.best)}"


def day_words(when: str, said_on: str) -> str:
    """A day as it is said, with its year where that is not the note's: "14 June", "2 January 2025"."""
    try:
        moment = datetime.fromisoformat(when)
    except ValueError:
        return when
    day = f"{moment.day} {moment:%B}"
    if when[:4] != said_on[:4]:
        day += f" {moment.year}"
    return f"{day} {moment:%H:%M}" if len(when) > 10 else day


def _act(record: Record) -> str:
    return "uncover" if record.kind == "cover" and record.level == 0 else record.kind


def _thing(record: Record) -> str:
    """An amount of something: "2 handfuls of kale", "5 melon rinds", "kale", "2 handfuls"."""
    amount, item = record.amount, record.item
    if amount is None:
        return item or ACTS.get(_act(record), ("", "", ""))[2]
    if amount.unit == "piece":
        return f"{spread_words(Spread(amount.low, amount.best, amount.high))} {item or 'pieces'}"
    return f"{amount_said(amount)} of {item}" if item else amount_said(amount)


def _restacked(record: Record) -> tuple[str, str]:
    if record.tier is None:
        at = f" as {_the(record.to_tier)}" if record.to_tier else ""
        return f"added a tier{at}", f"add a tier{at}"
    if record.to_tier is None:
        return f"took off {_the(record.tier)}", f"take off {_the(record.tier)}"
    goes = f"{_the(record.tier)} to where {_the(record.to_tier)} was"
    return f"moved {goes}", f"move {goes}"


def _the(tier: int) -> str:
    """A tier in the middle of a sentence."""
    return f"the {tier_words(tier)}" if tier == 1 else tier_words(tier)


def _where(record: Record) -> Iterator[str]:
    yield record.bin or ""
    if record.kind != "restack":
        yield tier_words(record.tier) if record.tier else ""
        yield f"into {_the(record.to_tier)}" if record.to_tier else ""
    yield record.spot or ""


def _when(record: Record, said_on: str) -> Iterator[str]:
    if record.when:
        due = "due " if record.state == "planned" else "by " if record.state == "expected" else ""
        yield due + day_words(record.when, said_on)
    elif record.state == "planned":
        yield "no day set"


def _seen(record: Record) -> str:
    """A reading, in the words of its scale or in its own unit."""
    amount = amount_said(record.amount) if record.amount else ""
    item, level = record.item or "", record.level
    match record.kind:
        case "moisture":
            return f"moisture: {amount or _on(MOISTURE, level, 'not said')}"
        case "temperature":
            return f"{'room' if item == 'air' else 'bed'} temperature: {amount or 'no figure'}"
        case "ph":
            return amount or "pH with no figure"
        case "smell":
            return "no smell" if item == "none" else f"smell: {item}"
        case "worm_estimate":
            return f"thought to hold {_thing(record) or 'worms'}"
        case "leftover":
            return f"{item or 'food'}: {_on(LEFT, level, 'some left')}"
        case "progress":
            return f"castings: {_on(FINISHED, level, 'how far is not said')}"
    if level == 0:
        return f"no {item} seen"
    if record.amount:
        return f"saw {_thing(record)}"
    many = _on(SIGHTING, level, "some")
    return f"saw {many}{' of' if many == 'a swarm' else ''} {item}"


def _on(scale: Mapping[int, str] | Mapping[float, str], level: float | None, unsaid: str) -> str:
    """The word of a scale that lies nearest to a level."""
    if level is None:
        return unsaid
    return min(scale.items(), key=lambda step: abs(step[0] - level))[1]
