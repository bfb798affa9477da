"""Products: bodies with hinges between them, proven whole and written as one model.

bodies: what a maker's own parts are. model: a product, typed. repeating: chains of copies. frames,
fitting, catching: where each joint and each catch sits, and what it takes from its bodies.
choosing: the hinges that joints leave open. building, joints: the mechanism that it is. seating,
giving, resting, fleets, proving: its verdict. reading, names: the same out of TOML; schema: what
may stand there. drawing, outputs: the files.
"""
