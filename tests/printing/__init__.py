"""Tests of the measures of printing, on hand-made solids with known answers."""
