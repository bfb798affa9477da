"""Tests of the measuring half, on hand-made solids with known answers."""
