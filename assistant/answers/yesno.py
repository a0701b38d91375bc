"""Did I, is it, was there: yes or no where the log says so, null where it does not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from assistant.answers.answer import Found
from assistant.answers.facts import Facts
from assistant.answers.levels import looks
from assistant.answers.query import Query
from assistant.answers.recall import ids, silent
from assistant.answers.wording import day_words, lines, since, tell
from assistant.records import ACTIONS, READINGS, Entry


def yes_no(query: Query, facts: Facts) -> Found:
    """Whether it was done or seen."""
    asked = {
        "cametrue": _came_true,
        "plan": _planned,
        "swap": _swapped,
        "anything": _anything,
        "ruledout": _ruled_out,
    }
    special = asked.get(query.asks)
    if special:
        return special(query, facts)
    if query.unknown or (not query.kinds and not query.items and not query.bin):
        return silent(query, facts)
    if query.kinds and all(kind in READINGS for kind in query.kinds):
        return _seen(query, facts)
    return _done(query, facts)


def _done(query: Query, facts: Facts) -> Found:
    entries = facts.choose(query)
    if entries:
        last = entries[-1]
        head = f"Yes, {since(last.day, facts.now.date())}: {tell([last], facts.bins)}."
        return Found(head + lines(entries[:-1], facts.bins), True, records=ids(entries))
    ruled = facts.choose(query, state="ruled_out")
    if ruled:
        return Found(
            f"No, you said so on {day_words(ruled[-1].day)}: {tell([ruled[-1]], facts.bins)}.",
            False,
            records=ids(ruled),
        )
    planned = facts.choose(replace(query, first=None, last=None), state="planned")
    if planned:
        return Found(
            f"The log does not say that you did. You planned it: {tell([planned[-1]], facts.bins)}.",
            records=ids(planned[-1:]),
        )
    return silent(query, facts)


def _seen(query: Query, facts: Facts) -> Found:
    """Whether a look showed it: the last one decides, and its day is told."""
    held = looks(replace(query, level=None), facts)
    if not held:
        return silent(query, facts)
    last = held[-1]
    value = _holds(last, query)
    ever = [entry for entry in held if _holds(entry, query)] if query.first or query.pick == "ever" else []
    if ever and not value:
        last, value = ever[-1], True
    when = f"last looked {since(last.day, facts.now.date())}"
    if value is None:
        return Found(
            f"The log does not say how much; {when}: {tell([last], facts.bins)}.", records=(last.id,)
        )
    return Found(
        f"{'Yes' if value else 'No'}, {tell([last], facts.bins)}; {when}.", value, records=(last.id,)
    )


def _holds(entry: Entry, query: Query) -> bool | None:
    """Whether a look shows what is asked."""
    record = entry.record
    if query.level and record.kind in ("moisture", "progress", "leftover"):
        return None if record.level is None else query.level[0] <= record.level <= query.level[1]
    if record.kind == "sighting":
        return record.level != 0
    if record.kind == "smell":
        wanted = set(query.items)
        return record.item in wanted if wanted else record.item not in ("none", "earthy")
    if record.kind == "leftover":
        return None if record.level is None else record.level == 0
    if record.kind == "progress":
        return None if record.level is None else record.level >= 1
    return True


def _planned(query: Query, facts: Facts) -> Found:
    plans = facts.choose(query)
    if not plans:
        return silent(query, facts)
    return Found(
        f"Yes: {tell([plans[-1]], facts.bins)}, said on "
        f"{day_words(plans[-1].said_on)}.{lines(plans[:-1], facts.bins)}",
        True,
        records=ids(plans),
    )


def _ruled_out(query: Query, facts: Facts) -> Found:
    """Whether something was skipped on purpose."""
    ruled = facts.choose(query)
    if ruled:
        return Found(
            f"Yes, {day_words(ruled[-1].day)}: "
            f"{tell([ruled[-1]], facts.bins)}.{lines(ruled[:-1], facts.bins)}",
            True,
            records=ids(ruled),
        )
    done = facts.choose(query, state="done")
    if done:
        return Found(
            f"No, it was done on {day_words(done[-1].day)}: {tell([done[-1]], facts.bins)}.",
            False,
            records=ids(done[-1:]),
        )
    return silent(query, facts)


def _swapped(query: Query, facts: Facts) -> Found:
    """Whether the trays changed places: what was said last decides."""
    wanted = replace(query, kinds=("restack",), items=())
    done = [
        e for e in facts.choose(wanted) if e.record.tier and e.record.to_tier
    ]  # none added, none taken off
    left = facts.choose(wanted, state="ruled_out")
    if not done and not left:
        return silent(wanted, facts)
    swapped = bool(done) and (not left or done[-1].day >= left[-1].day)
    held = [e for e in (done if swapped else left) if e.day == (done if swapped else left)[-1].day]
    told = "; ".join(tell([e], facts.bins) for e in held)
    return Found(
        f"{'Swapped' if swapped else 'Left'}: {told}, {day_words(held[-1].day)}.",
        swapped,
        records=ids(held),
    )


def _anything(query: Query, facts: Facts) -> Found:
    """Whether the log has anything on a bin, a food, a creature."""
    if query.unknown:
        return Found(f"No: the log has nothing on {query.unknown}.", False)
    entries = facts.choose(replace(query, kinds=()))
    if not entries:
        return Found(f"No: the log has nothing on that ({query.words(facts.bins)}).", False)
    return Found(
        f"Yes, {len(entries)} records from {entries[0].day} to "
        f"{entries[-1].day}.{lines(entries, facts.bins)}",
        True,
        records=ids(entries),
    )


def _came_true(query: Query, facts: Facts) -> Found:
    """What was expected, and what was seen of it since."""
    hopes = (
        []
        if query.unknown
        else facts.choose(query, kinds=() if not query.items and not query.kinds else None)
    )
    if query.items and not hopes:
        hopes = facts.choose(replace(query, kinds=()))
    if not hopes:
        return silent(query, facts)
    told, verdicts, records = [], [], []
    for hope in hopes[-8:]:
        after = _after(hope, facts)
        outcome = _outcome(hope, after, facts.now.date())
        verdicts.append(outcome)
        records += [hope.id, *ids(after[-1:])]
        word = {True: "came about", False: "did not come about", None: "not looked at since"}[outcome]
        seen = f"; {after[-1].day} {tell([after[-1]], facts.bins)}" if after else ""
        told.append(f"\n{hope.said_on[:10]} {tell([hope], facts.bins)}: {word}{seen}")
    value = verdicts[-1]
    head = {True: "Yes", False: "No", None: "The log does not say"}[value]
    return Found(
        f"{head}, by the last of {len(hopes)} expected.{''.join(told)}",
        value,
        records=tuple(dict.fromkeys(records)),
    )


def _after(hope: Entry, facts: Facts) -> list[Entry]:
    """What was seen or done of an expectation later on, in its place or in its bin as a whole."""
    record = hope.record
    items = (record.item,) if record.item else ()
    first = date.fromisoformat(hope.said_on[:10])
    query = Query("list", kinds=(record.kind,), items=items, bin=record.bin, first=first)
    later = [e for e in facts.choose(query) if e.note != hope.note and e.said_on > hope.said_on]
    return [e for e in later if None in (e.record.tier, record.tier) or e.record.tier == record.tier]


def _outcome(hope: Entry, after: Sequence[Entry], today: date) -> bool | None:
    """Whether it came about: a level as expected or beyond it, at the last look."""
    if not after:
        return None
    last, wanted = after[-1].record, hope.record
    if wanted.level is None or last.level is None:
        return (
            True
            if wanted.kind in ACTIONS
            else None
            if last.level is None and wanted.kind != "sighting"
            else last.level != 0
        )
    if wanted.kind == "leftover":
        return last.level <= wanted.level
    if wanted.kind == "progress":
        return last.level >= wanted.level
    if wanted.kind == "sighting":
        return (last.level > 0) == (wanted.level > 0)
    return last.level == wanted.level
