"""The lines of a journal: JSON with a checksum, and what can be read of a damaged file.

    {"crc":"5d1f00aa","id":"0198…","at":"…",…}

The checksum is the CRC-32 (zlib) of every byte after `"crc":"…",`. Lines are plain ASCII, so that neither
an editor's encoding nor half a character does harm; inside a JSON text a quotation mark is escaped, so the
opening `{"crc":"` can stand only at the start of a line: that is how a line is found again behind damage.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any
from zlib import crc32

_MARK = b'{"crc":"'
_HEAD = len(_MARK) + len('00000000",')


def encode(body: Mapping[str, Any]) -> bytes:
    """One line with its checksum and line end. ValueError or TypeError where it cannot be JSON."""
    rest = json.dumps(body, separators=(",", ":"), allow_nan=False).encode("ascii")[1:]
    return b'%s%08x",' % (_MARK, crc32(rest)) + rest + b"\n"


def decode(line: bytes) -> dict[str, Any] | None:
    """The body of a line without its line end; None where the checksum is wrong or it is no JSON."""
    if line[:_HEAD] != b'%s%08x",' % (_MARK, crc32(line[_HEAD:])):
        return None
    try:
        body: dict[str, Any] = json.loads(str(line, "ascii"))
    except ValueError:
        return None
    del body["crc"]
    return body


@dataclass(frozen=True, slots=True)
class Damage:
    """Bytes that could not be read: where (line, from 1), what, and whether the line has no end."""

    line: int
    data: bytes
    torn: bool


@dataclass(slots=True)
class Scan:
    """What was read: the bodies, the damage, and how far whole lines reach (bytes and lines)."""

    bodies: list[dict[str, Any]] = field(default_factory=list)
    damage: list[Damage] = field(default_factory=list)
    consumed: int = 0
    lines: int = 0


def scan(data: bytes, lines_before: int = 0) -> Scan:
    """Read every healthy line, whatever its line end. A last line without an end is read but not consumed."""
    found = Scan()
    for number, raw in enumerate(data.splitlines(keepends=True), lines_before + 1):
        line = raw.rstrip(b"\r\n")
        ended = len(line) < len(raw)
        body = decode(line)
        if body is not None:
            found.bodies.append(body)
        else:
            bodies, junk = _recover(line)
            found.bodies += bodies
            if junk.strip():
                found.damage.append(Damage(number, junk, not ended))
        if ended:
            found.consumed += len(raw)
            found.lines += 1
    return found


def _recover(line: bytes) -> tuple[list[dict[str, Any]], bytes]:
    """The healthy bodies inside a line that is not healthy as a whole, and the bytes of the rest."""
    bodies, junk = [], []
    starts = [0]
    while (at := line.find(_MARK, starts[-1] + 1)) >= 0:
        starts.append(at)
    for start, end in pairwise((*starts, len(line))):
        piece = line[start:end]
        close = piece.rfind(b"}") + 1
        body = decode(piece[:close])
        junk.append(piece if body is None else piece[close:])
        if body is not None:
            bodies.append(body)
    return bodies, b"".join(junk)
