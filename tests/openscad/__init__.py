"""What the real OpenSCAD makes of the emitted text, held against the Python readings."""
