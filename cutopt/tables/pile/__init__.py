"""The pile in words, a leftover a line, and pieces written as such lines.

`reading.py` is to be opened first; `writing.py` writes what it reads.
"""
