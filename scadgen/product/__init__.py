"""Products: bodies with hinges between them, proven whole and written as one model.

bodies: what a maker's own parts are. model: a product, typed. frames, fitting: where each joint
sits, and what it takes from its bodies. building: the mechanism that it is. resting, proving: its
verdict. reading: the same out of TOML. drawing, outputs: the files.
"""
