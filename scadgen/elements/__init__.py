"""The strength of the shape itself: finite elements on the very solids that are written.

A solid is cut into cubes, a cube at its skin counts by what of it is filled (finite cells), and
each is an element of eight corners. Nothing is meshed, so that any solid will do.
"""
