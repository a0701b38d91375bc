"""Examples for the help of each command, as they are typed behind `binside`."""

EXAMPLES = {
    "note": (
        "note fed the tub two cups of kale, bottom tray is soggy",
        "note < walk.txt",
        "--now 2026-03-05 note on Thursday I froze a bag of scraps",
    ),
    "parse": (
        "parse top tray damp, a few springtails",
        "parse --explain three handfuls of leaves, no, four",
        "parse --batch < notes.jsonl",
    ),
    "ask": (
        "ask what did I feed last week?",
        "ask how much has the tub had this month?",
        "ask --json when is the bottom tray due?",
    ),
    "bins": ("bins", "bins three trays stacked in the cellar, and a tub under the sink"),
    "import": (
        "import walk-2026-03-05.srt old-notes.txt looks.csv",
        "import /media/stick/binside",
        "import --watch ~/Dictation",
    ),
    "export": ("export log.jsonl", "export report.html", "export --overwrite due.ics"),
    "balances": ("balances", "balances --json"),
    "due": ("due", "due --json"),
    "undo": ("undo",),
}
