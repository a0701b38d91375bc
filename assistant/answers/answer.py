"""What is given back to a question."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from assistant.answers.query import Query

Value = float | int | str | bool | list[Any] | None


@dataclass(frozen=True, slots=True)
class Answer:
    """An answer: its `value` with range and unit, the ids of the records it rests on, and the words to show.

    `value` is a number, an ISO date, true or false, a string, a list, or None where the log does not say.
    `sources` are codes of lexicon/sources.csv for what the trade says in it.
    """

    question: str
    query: Query
    value: Value
    unit: str | None
    low: float | None
    high: float | None
    records: tuple[str, ...]
    text: str
    sources: tuple[str, ...] = ()

    def to_json(self) -> dict[str, Any]:
        """The answer as the contract writes it (section 7), with `sources` beside it."""
        return {
            "question": self.question,
            "read_as": self.query.to_json(),
            "value": _plain(self.value),
            "unit": self.unit,
            "low": _plain(self.low),
            "high": _plain(self.high),
            "records": list(self.records),
            "text": self.text,
            "sources": list(self.sources),
        }


@dataclass(frozen=True, slots=True)
class Found:
    """What a `want` finds; the question and the query are put to it by `ask`."""

    text: str
    value: Value = None
    unit: str | None = None
    low: float | None = None
    high: float | None = None
    records: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()

    def of(self, question: str, query: Query) -> Answer:
        """The answer to a question."""
        return Answer(
            question, query, self.value, self.unit, self.low, self.high, self.records, self.text, self.sources
        )


def _plain(value: Value) -> Value:
    """Figures without the noise of binary fractions; whole ones without a fraction."""
    if isinstance(value, float):
        rounded = round(value, 4)
        return int(rounded) if rounded.is_integer() else rounded
    if isinstance(value, list):
        return [{k: _plain(v) for k, v in one.items()} if isinstance(one, dict) else one for one in value]
    return value
