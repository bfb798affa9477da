"""Tests of toolpaths: G-code made by hand, with faults at known places, and real slicers."""
