"""The kinds of hinge: what pivots share, upright or lying, and what flexures share.

A kind fixes how its families lie on the bed (z = 0), the line they turn about and the parts they
draw. The fixed side is at negative, the moving side at positive x (upright) or y (lying, flat).
"""
