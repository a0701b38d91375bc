"""Files in and out: a format is one file, listed in the table of `inward` or `outward`.

`clean` makes text fit to show.
"""
