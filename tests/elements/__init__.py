"""Tests of finite elements on solids."""
