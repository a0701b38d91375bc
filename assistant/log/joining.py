"""The operations of another log, to be joined with ours: a second device's, or a copy kept elsewhere."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import NamedTuple

from assistant.errors import LogError
from assistant.log.disk import Disk
from assistant.log.lines import scan
from assistant.log.operations import Operation
from assistant.log.segments import Body, check_format, is_part


class Joined(NamedTuple):
    """What another log brought: how many notes and records were new, and what is to be told.

    `contested` are the entries that were amended or dropped on both sides since the logs went apart.
    """

    notes: int
    records: int
    contested: Sequence[str]
    warnings: Sequence[str]


def operations_of(folder: Path, disk: Disk) -> tuple[list[Body], list[str]]:
    """Every healthy operation of the log in a folder, once each, and a plain line for each damage.

    Nothing there is changed. LogError where it holds no log, cannot be read, or is of a newer format.
    """
    bodies: dict[str, Body] = {}
    damaged: list[str] = []
    try:
        names = [name for name in disk.names(folder) if is_part(name)]
        for name in names:
            found = scan(disk.read(folder / name))
            for body in found.bodies:
                check_format(name, body)
            bodies |= {body["id"]: body for body in found.bodies if "at" in body}
            damaged += [f"{name}, line {bad.line}: damaged, passed over" for bad in found.damage]
    except OSError as error:
        raise LogError(f"the log in {folder} cannot be read ({error.strerror or error})") from error
    if not bodies:
        raise LogError(f"{folder} holds no log")
    return list(bodies.values()), damaged


def contested(ours: Iterable[Operation], theirs: Iterable[Operation]) -> list[str]:
    """The entries that both sides changed, of operations that only the one side has."""
    return sorted(_changed(ours) & _changed(theirs))


def _changed(operations: Iterable[Operation]) -> set[str]:
    return {id for one in operations for id in (*one.get("amended", ()), *one.get("dropped", ()))}
