"""What is due as a calendar (.ics).

Source: RFC 5545: 3.1 (lines of at most 75 octets), 3.3.11 (TEXT and its escapes), 3.6.1 (events), 3.6.2
(to-dos), 3.8.4.7 (UID), 3.8.7.2 (DTSTAMP). What has a day is an event of that day, since many calendars pass
over to-dos; what has none is a to-do without a date.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from datetime import UTC, date, timedelta

from assistant.exchange.clean import shown
from assistant.exchange.outgoing import DueLike, Outgoing, place

OCTETS = 75
"""The longest line, without its line end, in octets of UTF-8."""


def write(out: Outgoing) -> str:
    """One VCALENDAR, line ends CRLF. What is due keeps its UID, so that a later file replaces it."""
    stamp = out.now.astimezone(UTC).strftime("%Y%m%dT%H%M%SZ")
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Binside//Worm bin log//EN", "CALSCALE:GREGORIAN"]
    seen: Counter[str] = Counter()
    for due in out.due:
        uid = _uid(due)
        seen[uid] += 1
        lines += _component(due, f"{uid}-{seen[uid]}@binside.invalid", stamp)
    lines.append("END:VCALENDAR")
    return "".join(folded(line) for line in lines)


def escaped(text: str) -> str:
    """A value of type TEXT: backslash, semicolon, comma, line end escaped; controls as visible stand-ins."""
    plain = shown(text)
    for sign, written in (("\\", "\\\\"), (";", "\\;"), (",", "\\,"), ("\n", "\\n")):
        plain = plain.replace(sign, written)
    return plain


def folded(line: str) -> str:
    """The line with its CRLF, folded before it grows past 75 octets and never inside a character."""
    out, room = [], OCTETS
    for character in line:
        size = len(character.encode("utf-8"))
        if size > room:
            out.append("\r\n ")
            room = OCTETS - 1
        out.append(character)
        room -= size
    return "".join(out) + "\r\n"


def _component(due: DueLike, uid: str, stamp: str) -> list[str]:
    day, where = _day(due), place(due.bin, due.tier)
    kind = "VEVENT" if day else "VTODO"
    lines = [f"BEGIN:{kind}", f"UID:{uid}", f"DTSTAMP:{stamp}"]
    if day:
        lines += [f"DTSTART;VALUE=DATE:{day:%Y%m%d}", f"DTEND;VALUE=DATE:{day + timedelta(days=1):%Y%m%d}"]
    lines.append("SUMMARY:" + escaped(f"{due.what} ({where})" if where else due.what))
    if due.why:
        lines.append("DESCRIPTION:" + escaped(due.why))
    if day:
        lines.append("TRANSP:TRANSPARENT")
    return [*lines, f"END:{kind}"]


def _day(due: DueLike) -> date | None:
    try:
        return date.fromisoformat(due.day[:10]) if due.day else None
    except ValueError:
        return None


def _uid(due: DueLike) -> str:
    told = "\0".join((due.what, due.bin or "", str(due.tier or ""), due.day or ""))
    return hashlib.sha256(told.encode("utf-8", "surrogatepass")).hexdigest()[:32]
