"""Files as text and text as files: what is read is rows of cells, what is written is written whole.

`text_files.py` is to be opened first: a file as text, or why it is none. `csv_tables.py` makes of it a table whose
cells have columns, `workbook.py` the same of the sheets of a workbook, `toml_rows.py` of a TOML text. `atomic.py` writes
one file, or several of a folder, in one step.
"""
