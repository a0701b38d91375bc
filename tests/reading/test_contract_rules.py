"""Every rule of the record contract's section 5, as small notes of our own (rules.tsv)."""

from __future__ import annotations

from typing import Any

import pytest

from tests.reading import rules
from tests.reading.tables import brief

CASES = rules.cases("rules.tsv")


@pytest.mark.parametrize("case", CASES, ids=str)
def test_a_rule(case: rules.Case) -> None:
    # source: contract, section 5, the rule whose number stands in front
    read = case.read()
    wanted = [rules.wanted_record(part) for part in rules.parts(case.wanted)]
    assert rules.matched(wanted, read), "\n".join((case.wanted, *map(brief, read)))


def test_every_rule_has_cases() -> None:
    both = [*CASES, *rules.cases("rules_open.tsv")]
    assert {case.rule for case in both} == set(range(1, 27))
    assert len({(case.setup, case.note) for case in both}) == len(both)


def test_a_case_can_fail() -> None:
    cup = {"low": 1, "best": 1, "high": 1, "unit": "cup"}
    record: dict[str, Any] = {
        "kind": "feed",
        "state": "done",
        "item": "kale",
        "unsure": [],
        "tier": None,
        "amount": cup,
    }
    for wanted in (
        "feed, item bread",
        "feed planned",
        "feed, amount 2 cup",
        "feed, amount 1 lb",
        "feed, unsure",
    ):
        assert not rules.matched([rules.wanted_record(wanted)], [record]), wanted
    for wanted in ("feed, tier 1", "feed, amount -", "bed, item kale", "feed, amount 0.8/1/1.2 cup"):
        assert not rules.matched([rules.wanted_record(wanted)], [record]), wanted
    good = rules.wanted_record("feed, item bread or kale, amount 1 cup, tier -")
    assert rules.matched([good], [record])
    assert not rules.matched([good], []) and not rules.matched([], [record])
    assert not rules.matched([good], [record, record])
