"""Tests of mechanisms: bodies, joints, and the proof of whole ones."""
