"""exchange/ stands on the values and errors alone: no other room of the house, no spaCy, no Textual."""

from __future__ import annotations

import subprocess
import sys


def test_the_files_in_and_out_start_alone() -> None:
    code = (
        "import sys, assistant.exchange.inward, assistant.exchange.outward, assistant.exchange.names\n"
        "heavy = {'spacy', 'textual', 'tinydb', 'dateparser', 'assistant'}\n"
        "print(*sorted(m for m in sys.modules if m.split('.')[0] in heavy))"
    )
    out = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    ).stdout.split()
    others = {name for name in out if not name.startswith("assistant.exchange")}
    assert others == {"assistant", "assistant.errors", "assistant.records"}
