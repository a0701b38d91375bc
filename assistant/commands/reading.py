"""`note`, `parse` and `ask`: words in, records or answers out."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

from assistant.commands.output import as_json, clock, complain, opened, put, put_json, words_or_input
from assistant.errors import BinsideError, FileError, UsageError
from assistant.records import SetUp, setup_from_json
from assistant.session import Reply, Session
from assistant.settings import log_folder


def note(arguments: argparse.Namespace) -> int:
    """Read a note, keep it, print the receipt."""
    text = words_or_input(arguments.text)
    try:
        with opened(arguments) as session:
            reply = session.note(text)
    except BinsideError:
        if not arguments.text and text.strip():
            put(text.rstrip("\n"))  # nothing typed is lost where it could not be kept
        raise
    _receipt(arguments, reply)
    return 0


def _receipt(arguments: argparse.Namespace, reply: Reply) -> None:
    if as_json(arguments):
        assert reply.note is not None
        records = [{"id": e.id, **e.record.to_json()} for e in reply.entries]
        put_json(
            {"note": reply.note.id, "said_on": reply.note.said_on, "records": records, "doubt": reply.doubt}
        )
        return
    put(reply.text)
    if reply.doubt:
        put(reply.doubt)
    for caution in reply.cautions:
        put(f"Caution: {caution.text} [{caution.source}]")


def parse(arguments: argparse.Namespace) -> int:
    """Read and keep nothing."""
    from assistant.reading import Reader

    if arguments.batch:
        return _parse_batch(Reader())
    text = words_or_input(arguments.text)
    if not text.strip():
        raise BinsideError("nothing to record: the note is empty")
    setup = _setup_file(arguments.setup) if arguments.setup else _kept_bins(arguments)
    now = clock(arguments)()
    reader = Reader()
    if arguments.explain:
        for line in reader.explain(text, setup, now):
            put(line)
        return 0
    records = [r.to_json() for r in reader.read(text, setup, now).records]
    if as_json(arguments):
        put_json({"records": records})
    else:
        for record in records:
            put(json.dumps(record, ensure_ascii=False))
    return 0


def _parse_batch(reader: Any) -> int:
    status = 0
    for number, line in enumerate(_lines(), 1):
        try:
            job = json.loads(line)
            now = datetime.fromisoformat(job["now"]) if job.get("now") else datetime.now()
            reading = reader.read(str(job["text"]), setup_from_json(job.get("setup") or ()), now)
        except (ValueError, KeyError, TypeError, AttributeError) as error:
            complain(f"line {number} of standard input cannot be read: {error}")
            status = 1
            continue
        put_json({"id": job.get("id"), "records": [r.to_json() for r in reading.records]})
    return status


def _lines() -> Iterator[str]:
    for raw in sys.stdin.buffer:
        line = raw.decode("utf-8", "replace").strip()
        if line:
            yield line


def _kept_bins(arguments: argparse.Namespace) -> SetUp:
    """The bins of the log, where there is one: to read a note neither makes nor needs it."""
    try:
        there = log_folder(getattr(arguments, "log", None)).is_dir()
    except UsageError:
        if hasattr(arguments, "log"):
            raise
        there = False
    if not there:
        return ()
    with opened(arguments) as session:
        return session.log.bins()


def _setup_file(name: str) -> SetUp:
    from assistant.reading.bins import check_names

    try:
        setup = setup_from_json(json.loads(Path(name).read_text(encoding="utf-8")))
    except OSError as error:
        raise FileError(f"{name}: {error.strerror or error}") from None
    except (ValueError, TypeError, AttributeError) as error:
        raise FileError(f"{name} is not a set-up: {error}") from None
    check_names(setup)
    return setup


def ask(arguments: argparse.Namespace) -> int:
    """Answer from the log."""
    if arguments.batch:
        return _ask_batch(arguments)
    question = words_or_input(arguments.question).strip()
    if not question:
        raise UsageError("what is the question?")
    with opened(arguments) as session:
        reply = session.ask(question)
    assert reply.answer is not None
    if as_json(arguments):
        put_json(reply.answer.to_json())
    else:
        put(reply.text)
        for caution in reply.cautions:
            put(f"Caution: {caution.text} [{caution.source}]")
    return 0


def _ask_batch(arguments: argparse.Namespace) -> int:
    status = 0
    with opened(arguments) as session:
        for number, line in enumerate(_lines(), 1):
            try:
                job = json.loads(line)
                answer = _answered(session, job)
            except (ValueError, KeyError, TypeError, AttributeError) as error:
                complain(f"line {number} of standard input cannot be read: {error}")
                status = 1
                continue
            put_json({"id": job.get("id"), **answer})
    return status


def _answered(session: Session, job: dict[str, Any]) -> dict[str, Any]:
    """Each question of a batch stands alone, with a clock of its own."""
    if job.get("now"):
        said = datetime.fromisoformat(job["now"])
        session = Session(session.log, lambda: said).sharing(session)
    answer = session.ask(str(job["question"])).answer
    assert answer is not None
    return answer.to_json()
