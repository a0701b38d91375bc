"""What the trade knows, made ready for folding: conversions, and the few rules that every fold asks for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from assistant import formulas
from assistant.balance.conversion import Converter
from assistant.balance.rules import Rules
from assistant.records import Amount
from lexicon import Lexicon


@dataclass(frozen=True, slots=True)
class Trade:
    """The converter and the rules of a lexicon, with the figures of loss by temperature taken out of them."""

    converter: Converter
    rules: Rules
    q10: float
    reference: float
    """The temperature at which the loss rates hold, degrees C."""
    coldest: float
    hottest: float
    """The band in which `q10` holds, degrees C."""
    reading_holds: int
    """Days after which a reading of the temperature no longer counts."""

    @classmethod
    def of(cls, lexicon: Lexicon, system: str = "", own: Mapping[str, float] | None = None) -> Trade:
        """The trade as the data of `lexicon` have it; LexiconError where a needed rule is missing.

        `system` ("imperial" or "metric") and `own` (ml in the keeper's measures) come from the settings.
        """
        rules = Rules(lexicon)
        band = rules.need("q10_temperature")
        return cls(
            Converter(lexicon, rules, system, own),
            rules,
            rules.need("q10").value,
            rules.need("decay_temperature").value,
            band.least,
            band.most,
            int(rules.need("reading_holds", ("temperature",)).value),
        )

    def factor(self, celsius: float) -> float:
        """How many times as fast loss goes as at the reference temperature. KATT98, inside its band."""
        inside = min(max(celsius, self.coldest), self.hottest)
        return formulas.rate_at(1.0, inside, self.reference, self.q10)


def celsius_of(amount: Amount | None) -> float | None:
    """The best figure of a temperature in degrees C; None where the unit is no temperature."""
    if amount is None or amount.unit not in ("degC", "degF"):
        return None
    return amount.best if amount.unit == "degC" else formulas.celsius(amount.best)
