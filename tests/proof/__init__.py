"""Tests of the proof, and of its fleet of printers."""
