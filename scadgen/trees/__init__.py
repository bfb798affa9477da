"""The two trees, numbers and shapes, and their readings; they know nothing of hinges.

``expr`` and ``solid`` are the trees; ``to_scad``, ``to_numpy`` and ``to_mesh`` read them.
"""
