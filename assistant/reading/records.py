"""From clauses to records: each kind's function in turn, corrections, then places and days."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from assistant.reading.amendments import amended
from assistant.reading.corrections import correct
from assistant.reading.doubts import Doubts
from assistant.reading.draft import Context, Draft
from assistant.reading.items import Items, readable
from assistant.reading.kinds import (
    acidity,
    acts,
    checks,
    dropped,
    earlier,
    estimates,
    left,
    liquids,
    moisture,
    moves,
    named_before,
    payments,
    prices,
    progress,
    refreshes,
    repeated,
    rest,
    restacks,
    same,
    seen,
    series,
    skips,
    smell,
    starts,
    strange,
    taken,
    temperature,
    trades,
    worms,
)
from assistant.reading.placed import UNPLACED, placed
from assistant.reading.recordday import day_for
from assistant.reading.sketch import Clause, Sketch
from assistant.reading.spots import spot
from assistant.reading.vocabulary import Vocabulary
from assistant.records import ACTIONS, Record

KINDS: tuple[Callable[[Context], Iterator[Draft]], ...] = (
    acidity.ph,
    acidity.acidity_strip,
    moisture.moisture_figure,
    progress.progress,
    repeated.elliptical,
    series.series,
    temperature.temperature,
    estimates.worm_estimate,
    estimates.bare_estimate,
    checks.check,
    skips.skipped,
    dropped.plan_dropped,
    refreshes.refresh,
    starts.start,
    restacks.restack,
    earlier.put_in_earlier,
    left.leftover,
    payments.paid_for,
    moves.rest_moved,
    worms.moved,
    seen.sighting,
    liquids.drained,
    trades.traded,
    acts.acts,
    strange.strange,
    taken.came_to,
    taken.emptied,
    taken.put_off,
    named_before.named_before,
    rest.more_of_it,
    same.same_again,
    liquids.sprays,
    smell.smell,
    moisture.moisture,
)
"""In this order: what claims figures and things first. A new kind is one more function here."""

_SPOTS = frozenset(
    "beneath under underneath below deeper down inside surface top middle edges corners end side elsewhere "
    "rest".split()
)
_AHEAD = ("planned", "future", "later", "tonight")
_READINGS_ONLY = frozenset(("leftover", "progress", "moisture", "smell", "sighting", "temperature", "ph"))


def assemble(sketch: Sketch, vocabulary: Vocabulary) -> Iterator[Record]:
    """The records of a note whose clauses, stances and places are settled."""
    finder = Items(vocabulary, sketch)
    settled: list[Draft] = []
    told: list[tuple[Draft, Record]] = []
    recent: list[Draft] = []  # what a later clause may still mend or point at
    for index, clause in enumerate(sketch.clauses):
        recent = _with_clause(sketch, vocabulary, finder, index, clause, recent)
        if len(recent) > _REMEMBERED and sketch.mending is None:
            settled += recent[: -(_REMEMBERED // 2)]
            recent = recent[-(_REMEMBERED // 2) :]
    for draft in [*settled, *recent]:
        if draft.kind not in UNPLACED:
            draft.spot = spot(sketch, vocabulary, draft.clause, draft.start, draft.end)
        told += [(draft, record) for record in placed(sketch, draft)]
    yield from Doubts(sketch, told).records()


_SHORT = 12  # words of a clause
_REMEMBERED = 60
"""How many drafts stay open to corrections; older ones are settled."""


def _with_clause(
    sketch: Sketch, vocabulary: Vocabulary, finder: Items, index: int, clause: Clause, drafts: list[Draft]
) -> list[Draft]:
    amounts = readable(sketch.amounts, clause)
    verbs = sketch.within("verb", clause.start, clause.end)
    unknown = (
        not verbs or any(v.value in _TAKES_ANYTHING for v in verbs) or clause.end - clause.start < _SHORT
    )
    items = finder.of(clause, amounts, unknown)
    context = Context(sketch, vocabulary, finder, clause, items, amounts, drafts, index)
    if sketch.mending is not None and clause.start >= sketch.mending:
        return amended(context, sketch.walk)
    if clause.stance == "talk":
        return correct(context, [], sketch.walk) if clause.because not in ("subordinate",) else drafts
    new: list[Draft] = []
    for kind in KINDS:
        for draft in kind(context):
            if clause.because == "foreseen" and draft.kind in ACTIONS:
                pass  # "that'll be two cups": the words of a walk-through
            elif clause.stance == "expected" and draft.kind in ACTIONS and draft.state == "done":
                draft.state = "planned"
            elif (
                clause.stance == "expected"
                and draft.kind in ("smell", "moisture")
                and any(d.end <= draft.start for d in clause.days)
            ):
                pass  # "gone by Sunday, good earthy smell": the smell is of today
            elif clause.stance in ("planned", "expected") and draft.state == "done":
                draft.state = "planned" if draft.kind in ACTIONS else "expected"
            new.append(draft)
            context.drafts = [*drafts, *new]
    context.drafts = drafts
    if clause.stance == "planned":
        new = [d for d in new if d.kind not in _READINGS_ONLY or _told_before(sketch, d)]
    new = _once(drafts, new, sketch, index)
    _announced(sketch, drafts, new, index)
    series.in_order(context, new)
    prices.prices(context, new)
    return correct(context, new, sketch.walk)


def _told_before(sketch: Sketch, draft: Draft) -> bool:
    """ "T 62F, back corner next": a reading that ends before anything looks ahead is of now."""
    clause = draft.clause
    marks = [m.start for m in sketch.within("mark", clause.start, clause.end) if m.value in _AHEAD]
    days = [d.start for d in clause.days if d.coming]
    if draft.end > min([*marks, *days], default=clause.start):
        return False
    draft.state, draft.day, draft.dated = "done", sketch.now.date().isoformat(), True
    return True


def _once(drafts: list[Draft], new: list[Draft], sketch: Sketch, index: int) -> list[Draft]:
    """ "did the big harvest, got eleven pounds": one harvest, told twice."""
    kept: list[Draft] = []
    floor = sketch.clauses[max(0, index - 3)].start
    clause = sketch.clauses[index]
    reckoned = "that" in sketch.words[clause.start : clause.start + 2]  # "so that's five pounds of castings"
    for draft in new:
        twin = next(
            (
                d
                for d in reversed([*drafts, *kept])
                if d.clause.start >= floor and _same(d, draft, reckoned) and not _apart(sketch, d, draft)
            ),
            None,
        )
        if twin is None:
            kept.append(draft)
        else:
            _enrich(twin, draft)
    return kept


def _announced(sketch: Sketch, drafts: list[Draft], new: list[Draft], index: int) -> None:
    """ "I fed this one Tuesday | it was a pint of plums": a feeding first announced, then told."""
    last = drafts[-1] if drafts else None
    if last is None or last.kind != "feed" or last.state != "done" or last.amount:
        return
    clause = sketch.clauses[index]
    if last.item and (last.item not in _MIXED or sketch.words[clause.start] not in ("it", "that")):
        return
    fed = [d for d in new if d.kind == "feed" and d.state == "done" and d.item and _within(d, last)]
    if not fed or last.clause.start < sketch.clauses[max(0, index - 2)].start:
        return
    for draft in fed:
        if last.clause.days and not draft.clause.days:
            draft.day, draft.dated = day_for(last.clause, "done", sketch.now.date(), sketch.words)[0], True
    drafts.remove(last)


_MIXED = frozenset(("leftovers", "food", "scraps", "food scraps", "kitchen scraps"))
"""What is only a name for several foods, told one by one afterwards: "it was two cups of plums"."""


def _within(draft: Draft, last: Draft) -> bool:
    """Whether a draft's place is that of the one before, or a tier of it."""
    here, there = draft.where or draft.clause.where, last.where or last.clause.where
    return here == there or all(tier is None and bin_ in (None, here[0][0]) for bin_, tier in there)


_TOLD_TWICE = frozenset(
    "harvest refresh start drain turn feed bed amend cover sighting leftover moisture smell progress".split()
)
_OF_AN_ITEM = frozenset(("feed", "bed", "amend", "cover", "sighting", "leftover", "smell"))


def _same(a: Draft, b: Draft, reckoned: bool) -> bool:
    """Whether two drafts tell of one thing: same kind, place and day, one of them without a figure."""
    if a.kind != b.kind or a.state != b.state or a.kind not in _TOLD_TWICE:
        return False
    if (a.where or a.clause.where) != (b.where or b.clause.where):
        return False
    if a.amount is not None and b.amount is not None:
        return a.kind == "harvest" and reckoned
    if a.kind in _OF_AN_ITEM and a.item != b.item and "none" not in (a.item, b.item) * (a.kind == "smell"):
        return False
    if (a.kind == "cover" and a.level != b.level) or (
        a.kind in ("sighting", "leftover") and 0 in (a.level, b.level) and a.level != b.level
    ):
        return False
    return [d.start for d in a.clause.days] == [d.start for d in b.clause.days] or not b.clause.days


def _apart(sketch: Sketch, a: Draft, b: Draft) -> bool:
    """ "the surface was dry | an inch beneath it was right": two readings, in two spots."""
    if a.kind != "moisture" or a.clause is b.clause or abs((a.level or 0) - (b.level or 0)) < 1:
        return False
    return bool(_SPOTS & set(sketch.words[a.clause.start : b.end]))


def _enrich(twin: Draft, draft: Draft) -> None:
    """What the second telling adds to the first."""
    twin.amount = draft.amount or twin.amount
    if twin.kind == "moisture":
        twin.level = max((twin.level, draft.level), key=lambda x: abs((x or 3) - 3))
    elif twin.kind == "progress":
        twin.level = draft.level if draft.level is not None else twin.level
    elif twin.kind == "smell" and twin.item == "none":
        twin.item = draft.item
    elif twin.level in (None, 2.0) and draft.level is not None:
        twin.level = draft.level


_TAKES_ANYTHING = frozenset(
    "feed add give get went mix mixin pour scoop have buy sell giveaway water drain take takeout".split()
)
