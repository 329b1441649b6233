"""The pile in words, a leftover a line.

`reading.py` is to be opened first: lines and names; `several.py` takes a line of several leftovers into lines of one.
`line.py` has the grammar of a line and reads one. `tokens.py` takes it into its words by the `patterns.py` of sizes and
lengths (`said_lengths.py`: also in words), `phrases.py` is the one table of what they mean, with the other
`ways_to_say.py` it, and `settling.py` settles those that hang on their neighbours. `asides.py` puts what is no cloth into
the note, `fabric_run.py` finds the name of the fabric, `words_used.py` uses each other word once and `said.py` holds what
they say; `whole_line.py` sees whether it makes one leftover, `amounts.py` orders the two lengths of a size. `flaws.py`
and `missing_corners.py` make outlines, `block_line.py` reads a line of spare blocks. `asked_back.py` has the problems,
`mends.py` mends that were tried. `stock.py` is what is known beside the line.
"""
