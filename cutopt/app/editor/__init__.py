"""The tables of a job in a notebook, to be changed and saved there.

From the files of a folder to a widget (`widget.py`, drawn by `tables.js`), and back to the files (`texts.py`).
"""
