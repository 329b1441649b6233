"""Hot loops, compiled by numba. They import each other relatively: see `loader.py`."""
