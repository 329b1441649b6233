"""The sentences of quilt.toml: from what is said of a quilt to wanted rows, each mistake told in its place.

`quilt.py` is to be opened first: it takes what is said key by key (`told.py`), with the habits under [how]
(`habits.py`), to `part_by_part.py`, which reads each sentence (`sentences.py`, `kinds.py`, `sizes_and_beds.py`) and
asks the arithmetic of :mod:`cutopt.quilt`.
"""
