"""The screen over a scripted session, on a real terminal: `python on_terminal.py LOG [stuck]`."""

import sys
from pathlib import Path

from scripted import opened, stuck

from assistant.screen import run

opening = stuck if "stuck" in sys.argv else opened
sys.exit(run(lambda: opening(Path(sys.argv[1]))))
