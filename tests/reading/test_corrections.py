"""Keepers who put right what they just said: corrections.tsv, and corrections_open.tsv for what fails."""

from __future__ import annotations

import pytest

from tests.reading import rules
from tests.reading.tables import brief

CASES = rules.cases("corrections.tsv")


@pytest.mark.parametrize("case", CASES, ids=str)
def test_only_the_corrected_record_is_given(case: rules.Case) -> None:
    # source: contract, section 5, rule 4
    read = case.read()
    wanted = [rules.wanted_record(part) for part in rules.parts(case.wanted)]
    assert rules.matched(wanted, read), "\n".join((case.wanted, *map(brief, read)))


@pytest.mark.parametrize("case", CASES, ids=str)
def test_a_corrected_record_quotes_the_note(case: rules.Case) -> None:
    # source: contract, section 2, `text`, `start`, `end`: the exact words of the note
    for record in case.read():
        assert record["text"]
        assert case.note[record["start"] : record["end"]] == record["text"]


def test_the_open_cases_are_open_and_no_case_stands_twice() -> None:
    still = rules.cases("corrections_open.tsv")
    assert [case.note for case in still if case.holds()] == []
    notes = [(case.setup, case.note) for case in (*CASES, *still)]
    assert len(set(notes)) == len(notes)
