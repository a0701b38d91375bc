"""Checks of time: what has not been done for long, by the bin's own pace first, else by rule."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from statistics import median

from assistant.balance.contents import heap, standing
from assistant.balance.rows import populations
from assistant.balance.spread import total
from assistant.balance.state import Event, Look
from assistant.balance.wording import ago_words, figure, times_words
from assistant.outlook.view import Due, View


def unfed(view: View) -> Iterator[Due]:
    """Too long since it was fed. FARMSHOW: 2 to 3 days warm, about a week cool; longer gaps from memory."""
    yield from _too_long(view, "feed", "feed_gap", "feed, or look whether it needs food", "fed")


def undrained(view: View) -> Iterator[Due]:
    """A bin that gave liquid before and was not drained for long. Common practice, no source."""
    yield from _too_long(view, "drain", "drain_gap", "let off the liquid", "drained")


def unseen(view: View) -> Iterator[Due]:
    """No look and no work for long. Common practice, no source."""
    rule = view.rule("look_gap")
    looks = [look for place in view.places for series in place.looks.values() for look in series[-1:]]
    work = [events[-1] for place in view.places for events in place.events.values()]
    both: list[Look | Event] = [*looks, *work]
    last = max(both, key=lambda one: one.day, default=None)
    if last and view.today - last.day > rule.value:
        why = f"nothing is on record since {ago_words(view.today - last.day)}"
        yield view.due("have a look", why, (last.record,), "overdue", rule.source)


def unbedded(view: View) -> Iterator[Due]:
    """Many feedings with no bedding between them. Common practice; a seller's page says as much of each."""
    rule = view.rule("feeds_without_bedding")
    beds = view.events("bed", "refresh", "start")
    since = beds[-1].day if beds else 0
    feeds = [event for event in view.events("feed") if event.day > since]
    days = sorted({event.day for event in feeds})
    if len(days) >= rule.value and not view.will("bed"):
        why = f"fed {times_words(len(days))} with no bedding on record between"
        yield view.due("add bedding", why, tuple(event.record for event in feeds), "drifting", rule.source)


def overfed(view: View) -> Iterator[Due]:
    """More food waiting than the worms eat in so many days. ASOTIN, EUG, STOCK, TNF for what they eat."""
    eats, most = view.rule("feed_per_worms"), view.rule("food_waiting")
    worms = [one.kg for place in view.places for one in populations(view.books, place) if one.kg]
    food = heap(
        portion
        for place in view.places
        for portion in standing(view.books, view.bin, place)
        if portion.of.role == "food"
    )
    mass = total(worms).best
    if not food.kg or mass <= 0:
        return
    days = food.kg.best / (mass * eats.value)
    if days > most.value:
        why = f"about {figure(food.kg.best)} kg of food waits, which these worms eat in {figure(days)} days"
        yield view.due("hold the next feeding", why, food.records, "drifting", f"{eats.source};{most.source}")


def _too_long(view: View, kind: str, rule_name: str, what: str, done: str) -> Iterator[Due]:
    rule = view.rule(rule_name)
    events = view.events(kind)
    if not events or view.will(kind):
        return
    waits = view.today - max(events[-1].day, view.ruled_out.get(kind, 0))
    own, sources = _own_gap(view, events), rule.source
    most = rule.most if own is None else own * view.rule("own_pace").value
    if waits <= most:
        return
    usual = f"usually every {figure(own)} days" if own else f"rule of thumb: {figure(rule.most)} days at most"
    why = f"last {done} {ago_words(view.today - events[-1].day)}; {usual}"
    yield view.due(what, why, (events[-1].record,), "overdue", sources if own is None else "")


def _own_gap(view: View, events: Sequence[Event]) -> float | None:
    """The usual number of days between events, from the latest of them; None where they are too few."""
    least = int(view.rule("own_pace_least").value)
    days = sorted({event.day for event in events})[-2 * least :]
    gaps = [later - earlier for earlier, later in pairwise(days)]
    return float(median(gaps)) if len(days) >= least else None
