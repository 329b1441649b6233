"""The rectangle that a shape needs: shapes with slanted sides in strips, others by their box, motifs by their repeat.

`nested.py` is to be opened first: how shapes of one kind lie in a strip. `sixty.py` are triangles, diamonds, hexagons and
half hexagons of 60 degrees, and the diamond of 45; `tumblers.py` shapes with two slanted sides; `rows.py` makes wanted
rows of any of them. `boxes.py` has templates, pieces to apply and to sew on paper, `halves.py` half-rectangle triangles,
`motifs.py` what is cut by the motif of a print, `stripes.py` a border by its stripe.
"""
