"""The chat screen. `app.run` opens it; nothing here imports spaCy, the reading or the log before the first frame.

talk, standing, receipt, form   what is shown, as plain values; they know the session and no Textual
app, bin_pane, box, ...         the widgets; they know Textual and the plain values
"""
