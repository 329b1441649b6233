"""A whole quilt as a value: its blocks patch by patch, where each patch lies, and its long seams.

`quilt.py` is to be opened first; `block_patches.py` are the blocks, `dealt.py` says which goes where, `layout.py`
where each patch lies, `long_seams.py` what a seam of the back keeps clear of.
"""
