"""What is due, and when the next one comes: what was planned first, else by the bin's own pace."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from statistics import median

from assistant.answers.answer import Found
from assistant.answers.facts import Facts
from assistant.answers.query import Query
from assistant.answers.recall import ids, silent
from assistant.answers.wording import (
    SAID,
    ago,
    aside,
    cap,
    day_words,
    lines,
    place_words,
    since,
    tell,
    where_words,
)
from assistant.balance.wording import figure
from assistant.outlook import Due
from assistant.records import ACTIONS, Entry


def dues(query: Query, facts: Facts) -> Found:
    """What asks for the keeper: promised, expected, drifting, overdue."""
    if query.unknown:
        return silent(query, facts)
    today = facts.now.date()
    until = (query.last or today) if query.last else today + timedelta(days=facts.terms.limits["due_ahead"])
    held = [one for one in facts.due if _fits(one, query, facts, until)]
    if not held:
        return Found(f"Nothing is due{_where(query, facts)}, by what the log says.", [])
    told = "".join(f"\n{_line(one, facts)}" for one in held)
    records = tuple(dict.fromkeys(id_ for one in held for id_ in one.records))
    sources = tuple(dict.fromkeys(code for one in held for code in one.source.split(";") if code))
    return Found(
        f"{len(held)} due{_where(query, facts)}:{told}",
        [_value(one) for one in held],
        records=records,
        sources=sources,
    )


def _value(one: Due) -> str:
    place = f", {one.bin}" if one.bin else ""
    return f"{one.what}{place}{f' tier {one.tier}' if one.tier else ''}"


def _fits(one: Due, query: Query, facts: Facts, until: date) -> bool:
    if query.bin and one.bin not in (query.bin, None):
        return False
    if query.tiers and one.tier not in (*query.tiers, None):
        return False
    if one.day and one.day > until.isoformat():
        return False
    if query.kinds and not any(
        id_ in facts.place and facts.entry(id_).record.kind in query.kinds for id_ in one.records
    ):
        return False
    return not query.last or one.day is not None


def _where(query: Query, facts: Facts) -> str:
    place = place_words(query.bin, query.tiers[0] if query.tiers else None, facts.bins)
    day = f" by {day_words(query.last)}" if query.last else ""
    return f"{' for ' + place if place else ''}{day}"


def _line(one: Due, facts: Facts) -> str:
    place = place_words(one.bin, one.tier, facts.bins)
    when = f"{one.day}, {ago(one.day, facts.now.date())}" if one.day else "no day said"
    return f"{one.what}{aside(place)} ({one.kind}, {when}): {one.why}"


def upcoming(query: Query, facts: Facts) -> Found:
    """When (or where) the next one is: planned, else reckoned from the usual gap."""
    if query.unknown:
        return silent(query, facts)
    if query.asks == "pause":
        return _pause(query, facts)
    plans = _open(query, facts)
    if query.asks == "plan":
        return _promised(query, facts)
    if plans:
        return _planned(query, facts, plans)
    if query.asks == "place":
        return _rotation(query, facts)
    return _by_pace(query, facts)


def _open(query: Query, facts: Facts) -> list[Entry]:
    """Plans and expectations of these kinds that nothing has settled, the soonest first."""
    waiting = {id_ for one in facts.due if one.kind in ("promised", "expected") for id_ in one.records}
    wanted = replace(query, first=None, last=None)
    held = [*facts.choose(wanted, state="planned"), *facts.choose(wanted, state="expected")]
    today = facts.now.date().isoformat()
    held = [e for e in held if e.id in waiting or (e.record.when or "") > today]
    return sorted(held, key=lambda e: (e.record.when is None, e.record.when or ""))


def _pause(query: Query, facts: Facts) -> Found:
    """When to stop feeding before a harvest that is planned: the usual pause before it."""
    rule = facts.terms.trade.rules.need("pause_before_harvest")
    harvests = [e for e in _open(replace(query, kinds=("harvest",), items=()), facts) if e.record.when]
    usual = f"Commonly no food goes in for {figure(rule.least)} to {figure(rule.most)} days before a harvest"
    if not harvests:
        return Found(
            f"The log does not say: no harvest is planned with a day. {usual}.", sources=(rule.source,)
        )
    day = date.fromisoformat((harvests[0].record.when or "")[:10])
    stop = day - timedelta(days=rule.value)
    text = (
        f"About {since(str(stop), facts.now.date())}: {tell(harvests[:1], facts.bins)} is "
        f"due {day_words(day)}. {usual}."
    )
    return Found(text, stop.isoformat(), records=ids(harvests[:1]), sources=(rule.source,))


def _promised(query: Query, facts: Facts) -> Found:
    """The day that was named in a plan, whether or not it was kept since."""
    plans = facts.choose(replace(query, state="planned"))
    if not plans and query.items:
        plans = facts.choose(replace(query, state="planned", kinds=()))
    dated = [e for e in plans if e.record.when]
    if not plans:
        return silent(replace(query, state="planned"), facts)
    plan = (dated or plans)[-1]
    day = plan.record.when[:10] if plan.record.when else None
    when = f"{since(str(day), facts.now.date())}" if day else "no day said"
    return Found(
        f"{cap(when)}: {tell([plan], facts.bins)}; said on "
        f"{day_words(plan.said_on)}.{lines([e for e in plans if e is not plan], facts.bins)}",
        day,
        records=ids(plans),
    )


def _planned(query: Query, facts: Facts, plans: Sequence[Entry]) -> Found:
    plan = plans[0]
    day = plan.record.when[:10] if plan.record.when else None
    others = lines(plans[1:], facts.bins)
    if query.asks == "place":
        place = where_words(plan.record, facts.bins)
        return Found(
            f"{place or 'No place said'}: {tell([plan], facts.bins)}, "
            f"{'due ' + day_words(day) if day else 'no day said'}.{others}",
            place or None,
            records=ids(plans),
        )
    if day is None:
        return Found(f"You said no day: {tell([plan], facts.bins)}.{others}", None, records=ids(plans))
    if query.asks == "days":
        days = (date.fromisoformat(day) - facts.now.date()).days
        return Found(
            f"{days} days, {day_words(day)}: {tell([plan], facts.bins)}, as you said.{others}",
            float(days),
            "day",
            records=ids(plans),
        )
    return Found(
        f"{since(str(day), facts.now.date())}: {tell([plan], facts.bins)}, as you said.{others}",
        day,
        records=ids(plans),
    )


def _by_pace(query: Query, facts: Facts) -> Found:
    """Last time and the usual gap; a reckoning, and said to be one."""
    done = facts.choose(replace(query, first=None, last=None))
    days = sorted({e.day for e in done})
    if not ACTIONS & set(query.kinds) or len(days) < 2:
        tail = f" It was last on {day_words(days[-1])}." if days else ""
        return Found(
            f"The log does not say: nothing of the kind is planned ({query.words(facts.bins)}).{tail}",
            records=ids(done[-1:]),
        )
    gaps = [date.fromisoformat(b).toordinal() - date.fromisoformat(a).toordinal() for a, b in pairwise(days)][
        -int(facts.terms.limits["pace_gaps"]) :
    ]
    gap = round(median(gaps))
    last, today = date.fromisoformat(days[-1]), facts.now.date()
    coming = last + timedelta(days=gap)
    told = f"not planned; by your usual gap of {gap} days (last {days[-1]})"
    records = ids([e for e in done if e.day in set(days[-len(gaps) - 1 :])])
    low, high = (float((last + timedelta(days=g) - today).days) for g in (min(gaps), max(gaps)))
    if query.asks == "days":
        left = float((coming - today).days)
        return Found(f"About {left:g} days: {told}.", left, "day", low, high, records)
    return Found(f"About {since(str(coming), today)}: {told}.", coming.isoformat(), records=records)


def _rotation(query: Query, facts: Facts) -> Found:
    """Where it went lately; the place that has gone longest without is named, no more."""
    done = facts.choose(replace(query, kinds=query.kinds or ("feed",), first=None, last=None))
    if not done:
        return silent(query, facts)
    latest: dict[str, Entry] = {}
    for entry in done:
        place = where_words(entry.record, facts.bins)
        if place:
            latest[place] = entry
    if not latest:
        return silent(query, facts)
    oldest = min(latest, key=lambda place: facts.place[latest[place].id])
    kind = SAID[done[-1].record.kind][0]
    told = lines(sorted(latest.values(), key=lambda e: facts.place[e.id]), facts.bins)
    return Found(
        f"You planned no place. Longest without a {kind}: {oldest}, "
        f"{ago(latest[oldest].day, facts.now.date())}. Last in each place:{told}",
        oldest,
        records=ids(list(latest.values())),
    )
