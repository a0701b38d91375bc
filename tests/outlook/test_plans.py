"""What was planned or expected, and what settles it."""

from __future__ import annotations

from typing import Any

import pytest

HARVEST = {"kind": "harvest", "state": "planned", "tier": 3, "item": "castings", "when": "2026-03-07"}


def promised(log: Any, now: str) -> list[tuple[str, int | None, str | None, str]]:
    return [
        (one.what, one.tier, one.day, one.kind)
        for one in log.due(now)
        if one.kind != "drifting" and not one.source
    ]


@pytest.mark.parametrize(
    ("now", "kind"), [("2026-03-02", "promised"), ("2026-03-07", "promised"), ("2026-03-08", "overdue")]
)
def test_a_plan_waits_until_it_is_done(log: Any, now: str, kind: str) -> None:
    log.note("2026-03-01", HARVEST)
    assert promised(log, now) == [("harvest castings", 3, "2026-03-07", kind)]


def test_a_plan_with_no_day_is_promised_and_comes_last(log: Any) -> None:
    log.note("2026-03-01", {"kind": "buy", "state": "planned", "item": "coconut coir", "bin": None}, HARVEST)
    assert [one.day for one in log.due("2026-03-02")] == ["2026-03-07", None]
    assert promised(log, "2026-04-02")[1] == ("buy coconut coir", None, None, "promised")


@pytest.mark.parametrize("day", ["2026-03-05", "2026-03-07", "2026-03-20"])
def test_doing_it_in_a_later_note_settles_it(log: Any, day: str) -> None:
    log.note("2026-03-01", HARVEST)
    log.note(day, HARVEST | {"state": "done", "when": day})
    assert promised(log, day) == []


@pytest.mark.parametrize(
    "other",
    [
        {"tier": 2},
        {"bin": "tote", "tier": None},
        {"kind": "feed", "item": "bread"},
        {"when": "2026-02-20"},
    ],
    ids=["another tier", "another bin", "another kind", "before it was said"],
)
def test_something_else_does_not_settle_it(log: Any, other: dict[str, Any]) -> None:
    log.note("2026-03-01", HARVEST)
    log.note("2026-03-06", HARVEST | {"state": "done", "when": "2026-03-06"} | other)
    assert [one[0] for one in promised(log, "2026-03-06")] == ["harvest castings"]


def test_done_in_the_same_note_is_not_the_plan(log: Any) -> None:
    feed = {"kind": "feed", "item": "bread", "tier": 1}
    log.note("2026-03-01", feed, feed | {"state": "planned", "when": "2026-03-05"})
    assert [one[0] for one in promised(log, "2026-03-01")] == ["feed bread"]


def test_a_plan_for_the_whole_bin_is_settled_by_any_tray(log: Any) -> None:
    log.note("2026-03-01", {"kind": "turn", "state": "planned"})
    log.note("2026-03-03", {"kind": "turn", "tier": 2})
    assert promised(log, "2026-03-03") == []


def test_a_plan_follows_its_tray(log: Any) -> None:
    log.note("2026-03-01", HARVEST)
    log.note("2026-03-02", {"kind": "restack", "tier": 3, "to_tier": 1, "item": "tier"})
    assert promised(log, "2026-03-03") == [("harvest castings", 1, "2026-03-07", "promised")]
    log.note("2026-03-04", HARVEST | {"state": "done", "tier": 1, "when": "2026-03-04"})
    assert promised(log, "2026-03-04") == []


def test_ruling_it_out_settles_it(log: Any) -> None:
    log.note("2026-03-01", HARVEST)
    log.note("2026-03-04", HARVEST | {"state": "ruled_out", "when": "2026-03-04"})
    assert promised(log, "2026-03-04") == []


def test_a_later_plan_takes_the_place_of_an_earlier_one(log: Any) -> None:
    log.note("2026-03-01", HARVEST)
    log.note("2026-03-06", HARVEST | {"when": "2026-03-14"})
    assert promised(log, "2026-03-08") == [("harvest castings", 3, "2026-03-14", "promised")]


def test_a_look_to_be_taken_is_settled_by_a_reading_of_it(log: Any) -> None:
    log.note("2026-03-01", {"kind": "check", "state": "planned", "item": "ph", "tier": 1})
    log.note("2026-03-03", {"kind": "sighting", "item": "worms", "level": 2, "tier": 1})
    assert [one[0] for one in promised(log, "2026-03-03")] == ["look at ph"]
    log.note("2026-03-04", {"kind": "ph", "amount": (6.5, "pH"), "tier": 1})
    assert promised(log, "2026-03-04") == []


def test_what_was_expected_asks_for_a_look_once_its_day_has_come(log: Any) -> None:
    expected = {"kind": "progress", "state": "expected", "tier": 2, "level": 1, "when": "2026-03-10"}
    log.note("2026-03-01", expected)
    assert promised(log, "2026-03-09") == []
    [due] = log.due("2026-03-10")
    assert (due.kind, due.day, due.tier, due.records) == ("expected", "2026-03-10", 2, ("r1",))
    log.note("2026-03-11", {"kind": "progress", "tier": 2, "level": 0.5})
    assert promised(log, "2026-03-11") == []


def test_why_is_the_keepers_own_words(log: Any) -> None:
    log.note("2026-03-01", HARVEST | {"text": "I'll harvest that one Saturday"})
    [due] = log.due("2026-03-02")
    assert "I'll harvest that one Saturday" in due.why and "2026-03-01" in due.why
    assert due.records == ("r1",)
