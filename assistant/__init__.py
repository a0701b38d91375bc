"""Binside: talk through a worm bin; get dated records, balances and answers."""
