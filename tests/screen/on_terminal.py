"""The screen over a scripted session, on a real terminal: `python on_terminal.py LOG`."""

import sys
from pathlib import Path

from scripted import opened

from assistant.screen import run

sys.exit(run(lambda: opened(Path(sys.argv[1]))))
