"""The sentences of quilt.toml: from what is said of a quilt to wanted rows, each mistake told in its place.

`quilt.py` is to be opened first: it takes what is said key by key (`told.py`), with the habits under [how]
(`habits.py`), to `part_by_part.py`, which goes from the patchwork (`parts_of_top.py`) to what is beside it
(`parts_beside_top.py`), all with one `reader.py`. Sentences are taken apart in :mod:`cutopt.tables.sentences` and
understood by `kinds/` (blocks and articles), `sentences_of_setting.py` (what may be said of it: `words_of_setting.py`,
of its places: `places_of_setting.py`), `sentences_of_borders.py` (what may be said of them: `words_of_borders.py`;
several in one sentence: `borders_in_one.py`), `sentences_of_edges.py` (binding and sleeve), `sentences_beside_top.py`
(backing and batting), `sentences_of_backs.py` (a pieced back), `found_sizes.py` and `beds_and_uses.py`, some of them put
in order first (`wording.py`), without what is said beside them (`asides.py`); the arithmetic is that of
:mod:`cutopt.quilt`.
"""
