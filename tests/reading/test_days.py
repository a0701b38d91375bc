"""Days: the list of days.tsv, dateparser and dateutil for what they can do, published holidays."""

from __future__ import annotations

import csv
import warnings
from datetime import date, datetime, timedelta
from functools import cache
from pathlib import Path

import pytest
import spacy
from dateutil.easter import easter as dateutil_easter
from dateutil.relativedelta import relativedelta
from hypothesis import given, settings
from hypothesis import strategies as st
from spacy.language import Language

from assistant.reading import calendar as cal
from assistant.reading.days import DaySpan, find_days
from lexicon import load

NOW = date(2026, 3, 10)  # a Tuesday
ROWS = {
    row["phrase"]: row
    for row in csv.DictReader(
        (Path(__file__).parent / "days.tsv").read_text(encoding="utf-8").splitlines(),
        delimiter="\t",
        quoting=csv.QUOTE_NONE,
        restval="",
    )
}
WEEKDAYS = "monday tuesday wednesday thursday friday saturday sunday".split()


@cache
def tokenizer() -> Language:
    return spacy.blank("en")


def words(text: str) -> list[str]:
    return [token.lower_ for token in tokenizer()(text)]


def days(text: str, now: date = NOW) -> list[DaySpan]:
    return find_days(words(text), now)


def one(text: str, now: date = NOW) -> DaySpan:
    (found,) = days(text, now)
    return found


def written(when: tuple[date, date] | None) -> str:
    if when is None:
        return "-"
    return str(when[0]) if when[0] == when[1] else f"{when[0]}..{when[1]}"


@pytest.mark.parametrize("phrase", ROWS)
def test_list(phrase: str) -> None:
    # source: contract.md, rules 6, 19 and 22; where it is silent, common practice
    row = ROWS[phrase]
    if row["past"] == "none":
        assert days(phrase) == []
        return
    span = one(phrase)
    assert (written(span.past), written(span.coming)) == (row["past"], row["coming"] or "-")
    marks = {
        "period": span.period,
        "recurring": span.recurring,
        "since": span.since,
        "unsure": bool(span.unsure),
    }
    assert {name for name, on in marks.items() if on} == set((row["flags"] or "").split())


@pytest.mark.parametrize("offset", range(7))
@pytest.mark.parametrize("number", range(7))
def test_weekdays_agree_with_dateutil(offset: int, number: int) -> None:
    # source: dateutil.relativedelta's weekday arithmetic; rule 22: the same weekday is seven days on
    now = NOW + timedelta(days=offset)
    span = one(WEEKDAYS[number], now)
    ahead = now + relativedelta(days=1, weekday=number)
    back = now - timedelta(days=1) + relativedelta(weekday=relativedelta_weekday(number, -1))
    assert span.coming == (ahead, ahead)
    assert span.past == (back, back)


def relativedelta_weekday(number: int, n: int) -> object:
    from dateutil import relativedelta as module

    return (module.MO, module.TU, module.WE, module.TH, module.FR, module.SA, module.SU)[number](n)


@pytest.mark.parametrize(
    ("text", "delta"),
    [
        ("three days ago", relativedelta(days=-3)),
        ("a fortnight ago", relativedelta(weeks=-2)),
        ("two months ago", relativedelta(months=-2)),
        ("a year ago", relativedelta(years=-1)),
        ("1 month and 21 days ago", relativedelta(months=-1, days=-21)),
        ("in six weeks", relativedelta(weeks=6)),
        ("in a month", relativedelta(months=1)),
        ("three weeks from now", relativedelta(weeks=3)),
    ],
)
def test_offsets_agree_with_dateutil(text: str, delta: relativedelta) -> None:
    # source: dateutil.relativedelta; 31 January and 29 February among the clocks
    for now in (NOW, date(2026, 1, 31), date(2024, 2, 29), date(2025, 12, 31)):
        span = one(text, now)
        assert (span.past or span.coming) == (now + delta, now + delta)


@pytest.mark.parametrize(
    "text",
    [
        "yesterday",
        "tomorrow",
        "three weeks ago",
        "in ten days",
        "2026-05-14",
        "march 14 2027",
        "14 march 2027",
        "june 21st",
        "december 25",
        "5 days ago",
        "in 2 months",
    ],
)
def test_agrees_with_dateparser(text: str) -> None:
    # source: dateparser 1.5, languages=["en"], future preferred
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import dateparser

        clock = datetime(NOW.year, NOW.month, NOW.day)
        theirs = dateparser.parse(
            text, languages=["en"], settings={"RELATIVE_BASE": clock, "PREFER_DATES_FROM": "future"}
        )
    assert theirs is not None
    span = one(text)
    assert (span.coming or span.past) == (theirs.date(), theirs.date())


def test_easter_agrees_with_dateutil() -> None:
    # source: dateutil.easter, western method
    assert all(cal.easter(year) == dateutil_easter(year) for year in range(1900, 2101))


@pytest.mark.parametrize(
    ("name", "day"),
    [  # source: US federal holidays as published by opm.gov, and gov.uk bank holidays, both from memory
        ("thanksgiving", date(2025, 11, 27)),
        ("thanksgiving", date(2026, 11, 26)),
        ("memorial day", date(2026, 5, 25)),
        ("labor day", date(2026, 9, 7)),
        ("mlk day", date(2026, 1, 19)),
        ("presidents day", date(2026, 2, 16)),
        ("easter monday", date(2026, 4, 6)),
        ("good friday", date(2025, 4, 18)),
        ("early may bank holiday", date(2026, 5, 4)),
        ("august bank holiday", date(2026, 8, 31)),
        ("boxing day", date(2026, 12, 26)),
    ],
)
def test_holidays(name: str, day: date) -> None:
    named = one(f"on {name} {day.year}")
    assert (named.coming or named.past) == (day, day)
    assert one(f"on {name}", day - timedelta(days=3)).coming == (day, day)


def test_every_holiday_rule_can_be_worked_out() -> None:
    for row in load().table("holidays"):
        assert cal.holiday(row["rule"], 2026), row["form"]


@pytest.mark.parametrize("text", ["31 february", "the 32nd of march", "feb 30", "march 5 9999", "0001-01-01"])
def test_days_that_do_not_exist(text: str) -> None:
    span = one(text)  # inputs.md, row 22
    assert span.past is None and span.coming is None and span.unsure


@pytest.mark.parametrize(
    "text",
    [
        "it may be dead",
        "may the worms march on",
        "a sun-warmed spot in the sun",
        "the lid sat there",
        "wait a second",
        "the second one down",
        "the third tray is soggy",
        "leaves fall from the trees",
        "spring onion tops",
        "half a cup",
        "3/4 cup of oats",
        "ph 6.8. fed them",
        "next time",
        "the last handful",
        "happy new year everybody",
        "day 55",
    ],
)
def test_ordinary_words_are_no_days(text: str) -> None:
    assert days(text) == []


def test_the_first_day_of_next_week_is_monday() -> None:
    span = one("next week")
    assert span.coming and span.coming[0] == date(2026, 3, 16) and not span.period  # rule 19


def test_since_runs_to_today() -> None:
    assert one("since new year").past == (date(2026, 1, 1), NOW)  # contract, section 7


def test_a_datetime_is_a_clock_too() -> None:
    assert one("today", datetime(2026, 3, 10, 23, 59)) == one("today")


def test_end_of_reach() -> None:
    assert one("in 900 years").coming is None
    assert one("in 900 years").unsure


@pytest.mark.parametrize(
    "phrase", ["a week from", "three days after", "1 day 1 week", "from monday to", "about"]
)
def test_long_chains_do_not_nest_without_end(phrase: str) -> None:
    assert len(find_days(phrase.split() * 1500, NOW)) <= 4500  # inputs.md, row 28: no blow-up, no crash


VOCABULARY = sorted(
    {w for phrase in ROWS for w in phrase.lower().split()}
    | set("- , . / the of to from 3rd 2026 31 0 9999".split())
)


@settings(max_examples=400, deadline=None)
@given(st.lists(st.sampled_from(VOCABULARY), max_size=14), st.dates(date(1950, 1, 1), date(2090, 12, 31)))
def test_any_words_give_ordered_spans(tokens: list[str], now: date) -> None:
    end = 0
    for span in find_days(tokens, now):
        assert end <= span.start < span.end <= len(tokens)
        assert all(p is None or p[0] <= p[1] for p in (span.past, span.coming))
        end = span.end
