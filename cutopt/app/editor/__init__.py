"""The tables of a job in a notebook, to be changed and saved there.

`widget.py` is to be opened first: from the files of a folder to a widget, drawn by `tables.js` and `tables.css`, and
back to the files (`texts.py`).
"""
