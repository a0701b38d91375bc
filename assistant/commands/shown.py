"""`bins`, `balances`, `due` and `undo`: commands that show or take back; none of them reads a note."""

from __future__ import annotations

import argparse
import shutil

from assistant import wording
from assistant.commands.output import as_json, opened, put, put_json
from assistant.errors import BinsideError


def bins(arguments: argparse.Namespace) -> int:
    """Show the set-up, or keep one told in words."""
    with opened(arguments) as session:
        if arguments.text:
            from assistant.reading.bins import bins_in

            found = bins_in(" ".join(arguments.text))
            if not found:
                raise BinsideError(
                    "I found no bin in that: say for example "
                    "'three trays stacked in the cellar, and a tub under the sink'"
                )
            session.set_bins(found)
        setup = session.log.bins()
    if as_json(arguments):
        put_json([b.to_json() for b in setup])
    elif setup:
        put("\n".join(wording.bin_line(b) for b in setup))
    else:
        put(
            "No bins yet: say which there are, for example: "
            "binside bins three trays stacked in the cellar, and a tub under the sink"
        )
    return 0


def balances(arguments: argparse.Namespace) -> int:
    """One table a bin, or all figures as JSON."""
    from assistant.balance import table, to_json

    with opened(arguments) as session:
        books = session.balances()
    if as_json(arguments):
        put_json(to_json(books))
    else:
        put(table(books, min(shutil.get_terminal_size((100, 24)).columns, 140)))
    return 0


def due(arguments: argparse.Namespace) -> int:
    """What needs doing, a line each."""
    with opened(arguments) as session:
        found = session.due()
    if as_json(arguments):
        put_json([wording.due_json(one) for one in found])
    else:
        put("\n".join(wording.due_line(one) for one in found) or "Nothing is due.")
    return 0


def undo(arguments: argparse.Namespace) -> int:
    """Take back the last thing kept."""
    with opened(arguments) as session:
        put(session.undo().text)
    return 0
