"""Tests of the fleet proof."""
