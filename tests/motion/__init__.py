"""Tests of the measures of motion, on hand-made solids with known answers."""
