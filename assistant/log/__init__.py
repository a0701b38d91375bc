"""The log: TinyDB's documents and queries over an append-only journal."""

from assistant.log.log import Log as Log
from assistant.log.log import NoteRecords as NoteRecords
