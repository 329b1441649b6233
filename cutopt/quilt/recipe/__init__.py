"""A whole quilt as a value: its blocks patch by patch, where each patch lies, and its long seams.

`quilt.py` is to be opened first; `block.py` and `setting.py` are what it is made of, `block_patches.py` the kinds of
blocks that are one unit, `shape_blocks.py` those of shapes, `fill.py` whether patches fill a block, `dealt.py` says which
goes where, `layout.py` where each patch lies (with `sash_layout.py` and `border_layout.py`), `long_seams.py` what a seam
of the back keeps clear of.
"""
