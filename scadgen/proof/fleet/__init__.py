"""What share of printers that nobody here controls make a hinge that turns freely and holds.

- ``population``: what is taken of a fleet of printers, with its source beside each number.
- ``counted``: settings as counted in published profiles; ``profiles.toml``: the counts.
- ``believed``: how far a share may be off, as counts are few and errors assumed.
- ``reading``: a population out of a file.
- ``printer``: one printer, or arrays of them: what its errors are.
- ``margins``: what a printer leaves of each gap, grip and web that the family declares.
- ``shares``: the closed form: a million printers in arrays, and the worst of them.
- ``even``: a thousand printers spread evenly, as good as many more at random.
- ``traced``: the same formulas as expressions, for a reader in another language.
- ``best``: the share at every clearance, and the clearance that does best.
- ``findings``: the share held against the share that is wanted.
- ``sampling``: some of the printers on the real solids, layer by layer, as a check of the formulas.

**The model.** Every layer is the body's section at mid height, as in ``proof.layers``; layers are
equally thick and counted from the bed. A printer moves each outline outwards by its growth, the
outline of a hole moreover by its hole shrinkage, and in the first layer all by its first-layer
spread. Between walls at an angle a from the vertical, a gap of c square to them is c / cos a wide
in a layer; what is left of it is c / cos a - 2 growth - hole shrinkage. Of the next layer the wall
above stands h tan a further out, so the gap is free when more than that is left; otherwise a layer
would land on the other body's layer below. Slicers close gaps that are drawn narrower than 0.1 mm,
and those are not free either. Between a floor and a flat roof there must be a whole empty layer,
and the roof must not sag through what is empty. "Free" is what ``proof.layers`` calls not fused, on
the grown layers. It is on the safe side: a printed line has round ends, which reach less far than
the middle of the layer where growth is measured.
"""
