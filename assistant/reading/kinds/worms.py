"""Worms that go from one bin to another: out there and in here (contract 5.18)."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.kinds.denials import denied
from assistant.reading.kinds.governing import act_of
from assistant.reading.places import iter_bins

_OUT = frozenset("take takeout takeoff pick scoop sieve harvest collect takeoff".split())
_IN = frozenset("add went back worms bring move get have pour release settle give drop".split())


def moved(c: Context) -> Iterator[Draft]:
    """A removal, an adding, or both, for the worms of a clause or for those the clause before took out."""
    items = [
        i
        for i in c.free()
        if "worms" in i.topics and not ("juvenile" in i.name or "escaping" in i.name or "dead" in i.name)
    ]
    verbs = [(v, act_of(c, v)) for v in c.here("verb")]
    bins = {t for p in c.clause.places for t in ([p.bin] if p.bin else list(iter_bins(p.word)))}
    for item in items:
        out = next((v for v, act in verbs if act in _OUT), None)
        into = next((v for v, act in verbs if act in _IN and act not in ("have", "get", "give")), None)
        some = {"half", "most", "all", "some", "rest"} & set(
            c.words[max(c.clause.start, item.start - 3) : item.start]
        )
        if item.amount is None and not (into and c.clause.places) and not (out and some and c.clause.places):
            continue
        source = [p for p in c.clause.places if p.after in ("from", "of", "off")]
        if (
            not verbs
            and c.word(item.end) == "in"
            and item.amount
            and c.word(item.end + 1) in ("", ",", ".", "with")
        ):
            c.taken.add(item.start)
            yield Draft(
                "worms_added",
                item.amount.start,
                item.end + 1,
                c.clause,
                item=item.name,
                amount=quantity(item.amount),
            )
            continue
        sifted = any(act == "get" for _, act in verbs) and any("castings" in i.topics for i in c.items)
        if out is None and into is None and not (source and item.amount) and not sifted:
            continue
        c.taken.add(item.start)
        if (
            out is None
            and any(act == "get" for _, act in verbs)
            and any("castings" in i.topics for i in c.items)
        ):
            out = verbs[0][0]
        a = item.amount
        start, end = (min(a.start, item.start), max(a.end, item.end)) if a else (item.start, item.end)
        if out is not None or source:
            where = sketch_targets(c, source[0]) if source else None
            yield Draft(
                "worms_removed",
                start,
                end,
                c.clause,
                item=item.name,
                amount=quantity(a),
                where=where,
                state=_state(c, out),
            )
        if into is not None:
            here = c.sketch.clauses[c.index - 1].where if c.index else c.clause.where
            told = any(d.kind == "worms_removed" for d in c.drafts[-2:])
            if (
                out is None
                and not source
                and a is not None
                and act_of(c, into) in ("back", "went")
                and bins
                and here[0][0] not in bins | {None}
                and not told
            ):
                yield Draft(
                    "worms_removed", start, end, c.clause, item=item.name, amount=quantity(a), where=here
                )
            to = next(
                (p for p in c.clause.places if p.start > into.start and p.after not in ("from", "of", "off")),
                None,
            )
            if (
                out is None
                and not source
                and to is None
                and not bins
                and not c.clause.places
                and into.value in ("back",)
            ):
                yield Draft("worms_added", start, end, c.clause, item=item.name, amount=quantity(a))
                continue
            yield Draft(
                "worms_added",
                start,
                end,
                c.clause,
                item=item.name,
                amount=quantity(a),
                where=sketch_targets(c, to) if to else None,
                state=_state(c, into),
            )
    if not items:
        yield from _following(c, verbs)


def _state(c: Context, verb):  # type: ignore[no-untyped-def]
    return "ruled_out" if verb is not None and denied(c, verb.start) else "done"


def sketch_targets(c: Context, place):  # type: ignore[no-untyped-def]
    """The targets of one place of the clause."""
    return c.sketch.walk.targets(place)


def _following(c: Context, verbs) -> Iterator[Draft]:  # type: ignore[no-untyped-def, type-arg]
    """ "... which I put in number four", "settled them in the barrel": the worms just taken out."""
    if any("worms" in i.topics for i in c.items) or not c.clause.places:
        return
    last = c.drafts[-1] if c.drafts else None
    if (
        last is None
        or last.kind not in ("worms_removed",)
        or last.clause.start < c.sketch.clauses[max(0, c.index - 2)].start
    ):
        return
    for v, act in verbs:
        if c.items and c.word(v.end) not in ("them", "em", "those", "'em"):
            continue
        to = next((p for p in c.clause.places if p.start >= v.end), None)
        if act in _IN and to is not None:
            yield Draft(
                "worms_added",
                v.start,
                to.end,
                c.clause,
                item=last.item,
                amount=last.amount,
                where=sketch_targets(c, to),
            )
            return
