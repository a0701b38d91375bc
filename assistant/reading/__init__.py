"""Understanding: a note in, records out. Only this package knows spaCy."""

from assistant.reading.reader import Reader, Reading

__all__ = ["Reader", "Reading"]
