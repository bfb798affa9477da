"""Certificates that one body cannot leave another by any rigid motion.

Of each body only its *core* is looked at: what in it is round about the axis, all the way around.
A motion that the cores forbid, the bodies forbid. The pose of one core in the other has four
dimensions: the shift square to the axis, the shift along it, the tilt, and the way of the tilt seen
from the shift. A *region* of poses around rest is closed when in every pose on its boundary a ball
of some radius lies within both cores: what starts inside can never leave it.
"""
