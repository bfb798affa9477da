"""Measures two solids: what touches what, how far one turns, what holds it, how loosely.

Everything here takes ``manifold3d`` solids and gives a frozen dataclass of plain numbers; nothing
knows which hinge the solids came from, and nothing passes or fails. Lengths are in millimetres,
angles in degrees, volumes in mm3.

- ``rest``: each body's pieces, and the overlap and smallest gap between two bodies as they stand.
- ``swing``: how far one turns about an axis until the other stops it, and the gap on the way, at
  every angle in between.
- ``at_once``: how far several joints turn at once before two bodies that they part can meet.
- ``retention``: how far one can be pulled out of the other along each of 26 straight ways, and
  whether a crooked way leads out.
- ``escape``: whether a search for a way out by shift, tilt and turn together finds one.
- ``play``: how far one moves in the other along the axis, square to it, and in tilt.
"""
