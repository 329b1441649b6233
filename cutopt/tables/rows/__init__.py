"""Rows of tables as values of a job, and values as rows.

`reading.py` is to be opened first: one function for each table, those of backs and blocks in `backs.py`. `cells.py`
reads a row cell by cell and notes what cannot be read, `odd_sizes.py` asks about sizes that are hardly meant,
`writing.py` is the way back.
"""
