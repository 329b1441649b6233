"""Kinds of blocks and of small articles that a sentence of quilt.toml may ask for.

`blocks.py` is to be opened first: it lists the kinds and makes blocks of a sentence. `patchwork.py`, `triangle_units.py`
and `traditional.py` take a sentence apart for each kind of block, `made_of.py` for blocks of the maker's own, of the units
in `row_units.py`, `articles.py` and `bags.py` for each article (`parts_of_articles.py` says of its fabrics), `shapes.py`
and `by_their_box.py` for shapes that are no rectangles. A new kind is a function here and a row in the list, and one in
:mod:`cutopt.quilt.recipe.block_patches` or :mod:`cutopt.quilt.pieced` that draws it.
"""
