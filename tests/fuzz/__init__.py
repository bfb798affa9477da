"""Random jobs through everything: refused clearly, proven or not proven, and never anything else.

``python -m tests.fuzz --jobs 10000`` goes on as long as one likes; a few run with the tests.
"""
