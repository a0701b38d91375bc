"""The one error of the lexicon."""


class LexiconError(Exception):
    """A row of data that cannot be taken; `str(error)` is one line that names the file and the row."""
