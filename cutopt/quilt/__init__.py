"""From a finished top or a recipe to wanted parts: pure arithmetic, every number with the line that made it.

`top.py` is to be opened first, then `wanted_parts.py`: what every part of a quilt gives. `conventions.py` are the choices
on which quilters disagree, `surds.py` numbers with √2 and other roots. Patches: `units.py`, `triangles.py`,
`strip_sets.py`; blocks and how they are set: `block_sums.py`, `block_settings.py`, `sashes.py`, `sashing.py`,
`on_point.py`; round them: `borders.py`, `pieced_borders.py`; the edge: `binding.py`, `bias.py`, `brought_round.py`; other
things: `articles.py`, `bags.py`, `covers.py`, `shirts.py`. `sizes.py`, `beds.py` and `sizes_of_blocks.py` say how large,
`cautions.py` what to take care of; `buying.py` goes from the length that is needed to the one that is bought,
`to_choose.py` holds backings and battings to choose from. `shapes/` are shapes that are no rectangles, `pieced/` blocks
of several rows, `recipe/` is a whole quilt, `backs/` its back.
"""
