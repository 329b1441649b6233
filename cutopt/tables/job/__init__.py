"""A job as tables: read with every mistake found in one pass, written so that it reads back equal.

`reading.py` is to be opened first. It finds the tables of a folder or workbook, has each row read by `rows.py` cell
by cell (`cells.py`) and the settings by `settings.py`, puts the rows of a recipe beside those written by hand
(`rows_by_hand.py`), and tells what does not go together (`contradictions.py`) and what is hardly meant
(`odd_sizes.py`). `saving.py` writes a job, `starter.py` one to begin with, `lasting_names.py` the names of a pile.
"""
