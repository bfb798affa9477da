"""What a slicer tells a printer: lines of G-code, laid as the areas that they cover.

It speaks of where plastic is sent, not of where it flows. Lengths in mm, areas in mm2.

- ``reading``: a file as layers of lines, one at a time; ``roles`` and ``settings``: its comments.
- ``areas``, ``patches``: lines as slabs of plastic, joined into bodies.
- ``links``: the places of a mechanism's links; ``welds``: where they touch, and how near.
- ``air``, ``fit``, ``solid``: lines in the air, walls that are lost, sections that bear load.
- ``judged``: all of it on one file; ``findings``: in sentences, with ``assumptions`` of the proof.
"""

from scadgen.toolpaths.findings import verdict_on as verdict_on
from scadgen.toolpaths.judged import BRIDGE as BRIDGE
from scadgen.toolpaths.judged import Asked as Asked
from scadgen.toolpaths.judged import Followed as Followed
from scadgen.toolpaths.judged import follow as follow
