"""What is coming: plans not yet done, what drifts or is overdue by rule, and the usual cautions.

due(entries, setup, now, lexicon)             everything that asks for the keeper
cautions(records, text, lexicon, shown)       warnings that a note touches, each once
"""

from assistant.outlook.cautions import cautions
from assistant.outlook.due import CHECKS, due
from assistant.outlook.view import Due, View

__all__ = ["CHECKS", "Due", "View", "cautions", "due"]
