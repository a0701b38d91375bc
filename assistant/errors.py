"""One family of errors; each carries one plain line for a person and the exit status of the contract.

BinsideError            status 1: it could not be done
├── UsageError          status 2: asked for in a wrong way
├── LogError            the log cannot be read or written
├── FileError           a file cannot be read or written
└── SetupError          a bin or a setting that cannot be taken
"""


class BinsideError(Exception):
    """Something a person can act on: `str(error)` is one plain line, `status` the exit status."""

    status = 1


class UsageError(BinsideError):
    """A command was called in a way it does not know."""

    status = 2


class LogError(BinsideError):
    """The log's folder or files cannot be read or written."""


class FileError(BinsideError):
    """A file to import or export cannot be read or written."""


class SetupError(BinsideError):
    """A bin or a setting that the program cannot take."""
