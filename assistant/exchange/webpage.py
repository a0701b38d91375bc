"""The log as a page (.html): one file, no script, no address outside it, fit to print.

Sources: WHATWG HTML (escaping, `bdi` for text of unknown direction); W3C Content Security Policy 3 (the page
forbids itself scripts and anything loaded from elsewhere).
"""

from __future__ import annotations

import html
from collections.abc import Sequence

from assistant.exchange.clean import shown
from assistant.exchange.outgoing import Outgoing, place
from assistant.exchange.summary import HEADINGS, by_note, moment, row_of, tiers

_STYLE = """
body { font: 11pt/1.5 Georgia, serif; max-width: 52rem; margin: 2rem auto; padding: 0 1rem; color: #222; }
h1, h2, h3 { font-family: sans-serif; line-height: 1.2; }
table { border-collapse: collapse; width: 100%; font: 10pt/1.4 sans-serif; }
th, td { border-bottom: 1px solid #bbb; padding: .25rem .5rem; text-align: left; vertical-align: top; }
blockquote { white-space: pre-wrap; overflow-wrap: anywhere; margin: .5rem 0; padding-left: 1rem;
  border-left: 3px solid #9a7b4f; }
@media print {
  body { margin: 0; max-width: none; }
  tr { break-inside: avoid; }
  h2, h3 { break-after: avoid; }
}
"""
_HEAD = f"""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width">
<title>Worm bin log</title>
<style>{_STYLE}</style>
</head>
<body>
<h1>Worm bin log</h1>
"""


def write(out: Outgoing) -> str:
    """Bins, what is due, then the notes by day, each with its words and a table of its records."""
    parts = [_HEAD, f"<p>Written on {out.now:%Y-%m-%d}.</p>\n"]
    if out.setup:
        rows = [(b.name, tiers(b.tiers), ", ".join(b.species), b.started or "") for b in out.setup]
        parts += ["<h2>Bins</h2>\n", _table(("bin", "tiers", "species", "started"), rows)]
    if out.due:
        due = [(d.day or "no day set", d.what, place(d.bin, d.tier), d.why) for d in out.due]
        parts += ["<h2>Due</h2>\n", _table(("day", "what", "where", "why"), due)]
    if out.entries or out.notes:
        parts.append("<h2>Notes</h2>\n")
    for said_on, note, entries in by_note(out):
        parts.append(f"<section>\n<h3>{_safe(moment(said_on))}</h3>\n")
        if note is not None:
            parts.append(f'<blockquote dir="auto">{html.escape(shown(note.text))}</blockquote>\n')
        if entries:
            parts.append(_table(HEADINGS, [row_of(entry.record) for entry in entries]))
        parts.append("</section>\n")
    return "".join(parts) + "</body>\n</html>\n"


def _table(headings: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    lines = ["<tr>" + "".join(f"<th>{heading}</th>" for heading in headings) + "</tr>"]
    lines += ["<tr>" + "".join(f"<td>{_safe(cell)}</td>" for cell in row) + "</tr>" for row in rows]
    return "<table>\n" + "\n".join(lines) + "\n</table>\n"


def _safe(text: str) -> str:
    """Text that stays text, and keeps its direction to itself."""
    return f"<bdi>{html.escape(shown(text))}</bdi>" if text else ""
