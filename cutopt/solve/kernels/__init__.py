"""Hot loops, compiled by numba. Each file stands alone, so that its cache never goes stale unnoticed."""
