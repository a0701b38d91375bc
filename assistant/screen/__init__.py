"""The chat screen; it imports no spaCy, reading or log before the first frame.

`values` is what the worker hands to the widgets. `talk`, `standing`, `receipt` and `form` make the values:
they know the session and no Textual. `app`, `box`, `conversation` and the others are the widgets.
"""

from assistant.screen.app import run

__all__ = ["run"]
