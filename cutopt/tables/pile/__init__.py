"""The pile in words, a leftover a line.

`reading.py` is to be opened first: lines and names. `line.py` has the grammar of a line and reads one,
`missing_corners.py` makes the outline of a rectangle of which corners are missing.
"""
