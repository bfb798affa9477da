"""What a slicer tells a printer: lines of G-code, laid as the areas that they cover.

It speaks of where plastic is sent, not of where it flows. Lengths in mm, areas in mm2.

- ``reading``: a file as layers of lines, one at a time; ``roles`` and ``settings``: its comments.
"""
