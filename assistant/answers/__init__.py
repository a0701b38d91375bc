"""Questions about the log: from words to one typed query, from the query to an answer with its records.

ask(question, facts, reader, before)   the answer; `before` is the query of the question before
sort_of(text, sketch)                  whether a line is a note, a question, both, a correction or a wish
"""

from assistant.answers.answer import Answer, Found
from assistant.answers.ask import WANTS, ask
from assistant.answers.facts import Facts
from assistant.answers.query import Query, Spot
from assistant.answers.sort import sort_of

__all__ = ["WANTS", "Answer", "Facts", "Found", "Query", "Spot", "ask", "sort_of"]
