"""What a rule says of the last looks and of the days since. Rules and sources: lexicon/rules.csv."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from assistant.outlook import CHECKS, Due
from lexicon import Lexicon

FEED = {"kind": "feed", "item": "coffee grounds", "tier": 1}


def by_rule(log: Any, now: str) -> list[Due]:
    return [one for one in log.due(now) if one.kind in ("drifting", "overdue")]


def whats(log: Any, now: str) -> list[str]:
    return [one.what for one in by_rule(log, now)]


def feed_every(log: Any, days: int, times: int, first: str = "2026-01-01") -> date:
    """Feed so often, with bedding each time; the last day."""
    day = date.fromisoformat(first)
    for _ in range(times):
        log.note(day.isoformat(), FEED, {"kind": "bed", "item": "shredded cardboard", "tier": 1})
        last, day = day, day + timedelta(days=days)
    return last


def test_every_check_names_where_it_comes_from() -> None:
    assert all(check.__doc__ for check in CHECKS)


def test_every_rule_that_speaks_has_a_known_source(log: Any, lexicon: Lexicon) -> None:
    log.note(
        "2026-01-01", FEED, {"kind": "ph", "amount": (9.5, "pH")}, {"kind": "moisture", "level": 5, "tier": 2}
    )
    codes = {row["code"] for row in lexicon.table("sources")}
    found = by_rule(log, "2026-01-25")
    assert len(found) >= 3
    for one in found:
        assert one.source and set(one.source.split(";")) <= codes
        assert one.records


def test_too_long_unfed_by_the_bins_own_pace(log: Any) -> None:
    last = feed_every(log, 5, 6)
    assert "feed" not in " ".join(whats(log, (last + timedelta(days=10)).isoformat()))
    [due] = by_rule(log, (last + timedelta(days=11)).isoformat())
    assert due.what.startswith("feed") and "every 5 days" in due.why and due.kind == "overdue"


def test_too_long_unfed_by_rule_where_there_is_no_pace(log: Any) -> None:
    """FARMSHOW: 2 to 3 days warm, about a week cool; two weeks as the end is from memory."""
    log.note("2026-01-01", FEED)
    assert not any(what.startswith("feed") for what in whats(log, "2026-01-15"))
    assert any(what.startswith("feed") for what in whats(log, "2026-01-16"))


def test_not_feeding_on_purpose_is_not_forgetting(log: Any) -> None:
    log.note("2026-01-01", FEED)
    log.note("2026-01-10", {"kind": "feed", "state": "ruled_out", "when": "2026-01-10"})
    assert not any(what.startswith("feed") for what in whats(log, "2026-01-20"))


def test_a_plan_to_feed_is_enough(log: Any) -> None:
    log.note("2026-01-01", FEED, FEED | {"state": "planned", "when": "2026-01-30"})
    assert not any(what.startswith("feed") for what in whats(log, "2026-01-20"))


@pytest.mark.parametrize(
    ("level", "word"), [(1, "water"), (2, "water"), (3, None), (4, "bedding"), (5, "bedding")]
)
def test_wet_and_dry_at_the_last_look(log: Any, level: int, word: str | None) -> None:
    log.note("2026-01-01", {"kind": "moisture", "level": level, "tier": 2})
    found = [one for one in by_rule(log, "2026-01-02") if one.tier == 2]
    assert [word in one.what for one in found] == ([True] if word else [])


@pytest.mark.parametrize(
    ("percent", "dry_or_wet"), [(55, True), (60, False), (80, False), (90, False), (92, True)]
)
def test_moisture_in_percent(log: Any, percent: float, dry_or_wet: bool) -> None:
    """Limits of 60 and 90 %: Edwards, Earthworm Ecology, ch. 18 (EE349)."""
    log.note("2026-01-01", {"kind": "moisture", "amount": (percent, "percent"), "tier": 2})
    assert bool(by_rule(log, "2026-01-02")) is dry_or_wet


def test_a_cure_gets_some_days_before_it_is_looked_at(log: Any) -> None:
    log.note(
        "2026-01-01",
        {"kind": "moisture", "level": 5, "tier": 2},
        {"kind": "bed", "item": "leaves", "tier": 2},
    )
    assert whats(log, "2026-01-02") == []
    assert whats(log, "2026-01-06") == ["look again how wet it is"]


def test_an_old_reading_is_no_reason(log: Any) -> None:
    log.note("2026-01-01", {"kind": "moisture", "level": 5, "tier": 2})
    assert not any("bedding" in what for what in whats(log, "2026-03-01"))


def test_limits_are_told_in_the_keepers_degrees(log: Any) -> None:
    log.note("2026-01-01", {"kind": "temperature", "item": "bed", "amount": (90, "degF"), "tier": 1})
    [due] = by_rule(log, "2026-01-01")
    assert "90 degF" in due.why and "86 degF" in due.why


def test_gnats_that_grow_more(log: Any) -> None:
    for day, level in (("2026-01-01", 1), ("2026-01-08", 2), ("2026-01-15", 3)):
        log.note(day, {"kind": "sighting", "item": "fungus gnats", "level": level, "tier": 1})
    [due] = by_rule(log, "2026-01-15")
    assert "fungus gnats" in due.what and due.why == "a few, then some, then many"
    log.note("2026-01-20", {"kind": "sighting", "item": "fungus gnats", "level": 1, "tier": 1})
    assert by_rule(log, "2026-01-20") == []


def test_springtails_are_no_pest(log: Any) -> None:
    for day, level in (("2026-01-01", 2), ("2026-01-08", 4)):
        log.note(day, {"kind": "sighting", "item": "springtails", "level": level, "tier": 1})
    assert by_rule(log, "2026-01-08") == []


def test_food_that_does_not_go(log: Any) -> None:
    log.note("2026-01-01", FEED)
    log.note("2026-01-09", {"kind": "leftover", "item": "coffee grounds", "level": 1, "tier": 1})
    assert "hold the next feeding there" in whats(log, "2026-01-09")


def test_many_feedings_and_no_bedding(log: Any) -> None:
    for day in range(1, 5):
        log.note(f"2026-01-0{day}", FEED)
    [due] = by_rule(log, "2026-01-04")
    assert due.what == "add bedding" and len(due.records) == 4


def test_more_food_than_the_worms_eat(log: Any) -> None:
    log.note("2026-01-01", {"kind": "worms_added", "item": "worms", "tier": 1, "amount": (0.25, "lb")})
    log.note("2026-01-02", FEED | {"amount": (4, "lb")})
    assert whats(log, "2026-01-03") == ["hold the next feeding"]


def test_a_tray_said_to_be_ready(log: Any) -> None:
    log.note("2026-01-01", {"kind": "progress", "level": 1, "tier": 3})
    [due] = by_rule(log, "2026-01-05")
    assert (due.what, due.tier) == ("harvest it", 3)
    log.note("2026-01-06", {"kind": "harvest", "item": "castings", "tier": 3})
    assert by_rule(log, "2026-01-06") == []


def test_liquid_not_let_off_for_long(log: Any) -> None:
    log.note("2026-01-01", {"kind": "drain", "item": "leachate", "amount": (1, "cup")})
    log.note("2026-02-01", FEED, {"kind": "bed", "item": "leaves", "tier": 1})
    assert whats(log, "2026-02-02") == ["let off the liquid"]


def test_nothing_on_record_for_long(log: Any) -> None:
    log.note("2026-01-01", {"kind": "sighting", "item": "worms", "level": 3, "tier": 1})
    assert whats(log, "2026-01-15") == []
    assert whats(log, "2026-01-16") == ["have a look"]


def test_a_bin_with_no_records_asks_for_nothing(log: Any) -> None:
    assert log.due("2026-01-01") == []
