"""Model files: triangles read out of them, and solids written into them."""
