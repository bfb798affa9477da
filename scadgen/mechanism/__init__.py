"""What moves in what: named bodies, joints between two of them, and contacts that are meant.

A hinge gives its mechanism from its definition, ``inspection`` finds one in meshes; whatever
proves, draws or describes a model reads only that. One file for each kind of joint.
"""
