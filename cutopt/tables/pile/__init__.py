"""The pile in words, a leftover a line.

`reading.py` is to be opened first: lines and names. `line.py` has the grammar of a line and reads one. `tokens.py`
takes it into its words, `phrases.py` is the one table of what they mean, `fabric_run.py` finds the name of the fabric,
`words_used.py` uses each other word once, `amounts.py` orders the two lengths of a size, `asked_back.py` has the mends.
`stock.py` is what is known beside the line, `missing_corners.py` makes the outline of a rectangle of which corners are
missing.
"""
