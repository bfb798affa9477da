"""Mutation of the proof: each of its findings and measures switched off, and the test that fails.

``python -m tests.mutants`` does it; see :mod:`tests.mutants.__main__`.
"""
