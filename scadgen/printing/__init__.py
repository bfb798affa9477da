"""Measures bodies as a printer makes them: layers, overhangs, gaps between lines, walls.

Everything here takes ``manifold3d`` solids that stand on z = 0 and gives a frozen dataclass of
plain numbers; nothing passes or fails. Lengths are in millimetres, areas in mm2.

- ``layers``: what of a printed layer is not carried by the layer below, and where bodies fuse.
- ``threads``, ``beads``: what bridges hangs below its layer; tips come out as wide as a line.
- ``remnants``: lines that are laid across the narrow ends that loops leave.
- ``air``: the fewest empty layers where one body stands over another.
- ``over_extrusion``: how far it may push lines out before two bodies fuse.
- ``bed``: what stands on the bed, and what the first layer's spread brings together.
- ``standing``: the foot of each body, held against the height that stands over it.
- ``lines``: how wide printed lines are, and how high a layer of them may be.
- ``walls``: walls thinner than two printed lines.
"""
