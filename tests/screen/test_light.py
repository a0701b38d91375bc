"""The first frame waits for nothing heavy: what is imported with the screen."""

from __future__ import annotations

import subprocess
import sys

HEAVY = (
    "spacy",
    "tinydb",
    "dateparser",
    "assistant.reading",
    "assistant.log",
    "assistant.balance",
    "lexicon",
)


def test_the_screen_imports_nothing_heavy():
    code = f"import sys, assistant.screen; print([name for name in {HEAVY} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_the_dialogue_imports_no_textual():
    code = "import sys, assistant.commands.dialogue; print('textual' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
