"""What the records add up to: records in time order, folded into trays, stocks, worms and money.

    fold(entries, setup, now, lexicon)   the balances on a day
    with_entry(balances, entry)          the balances with one more record
    rows(balances)                       what each tray holds, plain rows
    stocks(balances), purses(balances)   what is kept beside the bins; money by currency
    table(balances, width), to_json(balances)

Food and bedding lie as portions in trays that have an identity; a portion shrinks by first-order loss, faster
in the warm; what the keeper sees sets it right and the gap is kept. Ranges travel with every figure.
"""

from assistant.balance.fold import fold, fold_with, in_time_order, with_entry
from assistant.balance.rows import BalanceRow, rows
from assistant.balance.state import Balances
from assistant.balance.stocks import purses, stocks
from assistant.balance.table import table
from assistant.balance.to_json import to_json
from assistant.balance.trade import Trade

__all__ = [
    "BalanceRow",
    "Balances",
    "Trade",
    "fold",
    "fold_with",
    "in_time_order",
    "purses",
    "rows",
    "stocks",
    "table",
    "to_json",
    "with_entry",
]
