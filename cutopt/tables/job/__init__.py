"""A job as tables: read with every mistake found in one pass, written so that it reads back equal.

`reading.py` is to be opened first. `finding.py` and `finding_in_workbook.py` find the tables of a folder or workbook
(`found_tables.py` holds them), each row is read by `tables/rows`, the settings by `settings.py`; rows of a recipe stand
beside those written by hand (`rows_by_hand.py`), `washing.py` knows what is washed before it is cut, and
`contradictions.py` tells what does not go together. `backs.py` reads backs and spare blocks with what job.toml says of
each (`back_rules.py`), `back_of_quilt.py` adds that of a quilt. `saving.py` writes a job, `starter.py` one to begin
with, `lasting_names.py` the names of a pile.
"""
