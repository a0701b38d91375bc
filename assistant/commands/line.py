"""The command line: which command, with which options. Errors become one plain line and an exit status."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from datetime import datetime
from importlib import import_module
from typing import Any, NoReturn

from assistant.commands.examples import EXAMPLES
from assistant.errors import BinsideError, UsageError

Command = Callable[[argparse.Namespace], int]


class _Parser(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        raise UsageError(f"{message} (see '{self.prog} --help')")


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; the exit status of the contract: 0 done, 1 could not, 2 wrong usage, 130 Ctrl-C."""
    try:
        arguments = _parser().parse_args(argv)
        status = _run(arguments)
        sys.stdout.flush()
        return status
    except BinsideError as error:
        from assistant.commands.output import complain

        complain(str(error))
        return error.status
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # so that the last flush is quiet too
        return 0


def _run(arguments: argparse.Namespace) -> int:
    """The command's function, imported only now: the screen should not wait for what it does not use."""
    if not arguments.command:
        return _converse(arguments)
    module, _, name = arguments.command.partition(".")
    command: Command = getattr(import_module(f"assistant.commands.{module}"), name)
    return command(arguments)


def _parser() -> argparse.ArgumentParser:
    common = _common()
    parser = _Parser(
        "binside",
        description="Talk through your worm bins; keep dated records, balances and answers.",
        parents=[common],
    )
    parser.add_argument("--plain", action="store_true", help="a line-by-line dialogue instead of the screen")
    parser.set_defaults(command="")
    _add_commands(parser.add_subparsers(metavar="COMMAND", parser_class=_Parser), common)
    return parser


def _add_commands(commands: Any, common: _Parser) -> None:
    """Every command with its options; what it runs is a module of this folder and a function in it."""

    def add(name: str, run: str, help_: str) -> argparse.ArgumentParser:
        sub: argparse.ArgumentParser = commands.add_parser(
            name,
            help=help_,
            description=help_,
            parents=[common],
            epilog="\n".join(["for example:", *(f"  binside {words}" for words in EXAMPLES[name])]),
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )
        sub.set_defaults(command=run)
        return sub

    note = add("note", "reading.note", "read a note, keep it with its records, print a receipt")
    note.add_argument("text", nargs="*", help="the note; standard input where none is given")
    parse = add("parse", "reading.parse", "read a note and print its records; nothing is kept")
    parse.add_argument("text", nargs="*", help="the note; standard input where none is given")
    parse.add_argument("--setup", metavar="FILE", help="the bins, as JSON")
    parse.add_argument("--batch", action="store_true", help="JSON lines in, JSON lines out")
    parse.add_argument("--explain", action="store_true", help="show every step of the reading")
    ask = add("ask", "reading.ask", "answer a question from the log")
    ask.add_argument("question", nargs="*", help="the question")
    ask.add_argument("--batch", action="store_true", help="JSON lines in, JSON lines out")
    bins = add("bins", "shown.bins", "show the bins, or say which there are")
    bins.add_argument("text", nargs="*", help="your bins, in words")
    import_ = add("import", "files.import_", "read transcripts, notes, spreadsheets or records from files")
    import_.add_argument("files", nargs="*", metavar="FILE", help="a file, or the folder of another log")
    import_.add_argument("--watch", metavar="FOLDER", help="read each file that comes to rest in a folder")
    export = add(
        "export", "files.export", "write the log to a file, by its ending: .csv .jsonl .md .html .ics"
    )
    export.add_argument("file", metavar="FILE")
    export.add_argument(
        "--overwrite", action="store_true", help="put it in the place of a file that is there"
    )
    add("balances", "shown.balances", "what each tier, stock and worm population holds now")
    add("due", "shown.due", "what needs doing, why, and from which record")
    add("undo", "shown.undo", "take back the last thing kept")


def _common() -> _Parser:
    """Options that every command takes, before or behind its name."""
    common = _Parser(add_help=False)
    common.add_argument("--log", metavar="FOLDER", default=argparse.SUPPRESS, help="where the log lives")
    common.add_argument(
        "--now", metavar="ISO", type=_moment, default=argparse.SUPPRESS, help="the clock, for back-dating"
    )
    common.add_argument("--json", action="store_true", default=argparse.SUPPRESS, help="print data as JSON")
    return common


def _moment(text: str) -> datetime:
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(
            f"'{text}' is not a date like 2026-03-05 or 2026-03-05T18:30"
        ) from None


def _converse(arguments: argparse.Namespace) -> int:
    """The chat screen; the plain dialogue where there is no terminal for it."""
    from assistant.commands.output import opened

    plain = (
        arguments.plain
        or not all(stream.isatty() for stream in (sys.stdin, sys.stdout, sys.stderr))
        or os.environ.get("TERM", "dumb") == "dumb"
    )
    if plain:
        from assistant.commands.dialogue import converse

        with opened(arguments) as session:
            return converse(session, sys.stdin, sys.stdout)
    from assistant.screen import run

    return run(lambda: opened(arguments))


if __name__ == "__main__":
    sys.exit(main())
