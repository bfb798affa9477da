"""Measures solids: what touches what, how far it turns, what holds it, what hangs in the air.

Everything here takes ``manifold3d`` solids and gives a frozen dataclass of plain numbers; nothing
knows which hinge the solids came from, and only ``solids``, ``printing`` and ``verdict`` pass or
fail anything. Lengths are in millimetres, angles in degrees, areas in mm2, volumes in mm3.

- ``rest``: each body's pieces, and the overlap and smallest gap between two bodies as they stand.
- ``swing``: how far one turns about an axis until the other stops it, and the gap on the way.
- ``hold``: how far one can be pulled out of the other along each of 26 straight ways, and whether
  a crooked way leads out.
- ``escape``: whether a search for a way out by shift, tilt and turn together finds one.
- ``play``: how far one moves in the other along the axis, square to it, and in tilt.
- ``layers``: what of a printed layer is not carried by the layer below, and where bodies fuse.
- ``air``: the fewest empty layers where one body stands over another.
- ``margin``: how far over-extrusion may push lines out before two bodies fuse.
- ``bed``: what stands on the bed, and what the first layer's spread brings together.
- ``walls``: walls thinner than two printed lines.
"""
