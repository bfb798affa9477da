"""Strength formulas beside finite elements on the same solids: measured, kept, and written."""
