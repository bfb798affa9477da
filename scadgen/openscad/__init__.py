"""Text for OpenSCAD: modules, presets, the library, the bridge to solidpython2; and the program."""
