"""One rectangular plate by itself: exact programmes over guillotine cuts.

From a plate and parts with values (whole numbers) to the most value, proved, and where its parts lie.
`plate_table.py` (copies unlimited) is to be opened first; `exact_plate.py` counts copies, `joined_parts.py` is how
the kernels keep blocks of parts, `shelving.py` fills a plate at once, and `large/` is a search for plates so large
beside their parts that no table of them can be filled.
"""
