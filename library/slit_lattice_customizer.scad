// slit_lattice_customizer.scad - opens slit_lattice.scad with its values in the Customizer
// Sliders reach as far as works while the others stay; what lies beyond goes into the text.
// Needs slit_lattice.scad beside it. Written by scadgen 0.2.0.
// Fingerprint of this text as written: 73b9ebb3b24ee79a

use <slit_lattice.scad>

/* [Part] */
// What to draw
slit_lattice_part = "both";  // [both, fixed, moving, fixed_relief, moving_relief]
// Angle drawn; 0 is how it prints (deg)
slit_lattice_angle = 0;  // [-90:1:90]
// Bend that the hinge must be free for, each way (deg)
slit_lattice_swing = 90;  // [10:5:180]
/* [Size] */
// Thickness of the sheet (mm)
slit_lattice_thickness = 2.4;  // [1.6:0.1:5.1]
// Solid border at either end, to join to a part (mm)
slit_lattice_border = 12;  // [2:0.5:100]
// Rows of slits, one behind the other
slit_lattice_rows = 17;  // [8:1:60]
// Slits in a row, side by side
slit_lattice_columns = 2;  // [1:1:12]
// Width of a strip between two rows (mm)
slit_lattice_strip = 2;  // [1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2, 2.1, 2.2, 2.3, 2.4, 3]
// Length of a slit; 0: 28 or as needed (mm)
slit_lattice_slit_length = 0;  // [0:0.5:150]
// Solid bridge between two slits of a row; 0: 4 or as needed (mm)
slit_lattice_bridge = 0;  // [0:0.5:30]
/* [Fit] */
// Air gap, square to the walls (mm)
slit_lattice_clearance = 0.3;  // [0.15:0.05:0.8]
// Width of a slit (mm)
slit_lattice_slit = 0.5;  // [0.35:0.05:3]
/* [Quality] */
// Facets per full turn
slit_lattice_facets = 64;  // [16:4:256]
// Thickest layer that prints it (mm)
slit_lattice_layer = 0.3;  // [0.04:0.02:0.32]
// Width of a printed line (mm)
slit_lattice_line_width = 0.45;  // [0.4:0.05:0.65]
/* [Hidden] */
slit_lattice(part = slit_lattice_part, angle = slit_lattice_angle, swing = slit_lattice_swing,
  thickness = slit_lattice_thickness, border = slit_lattice_border, rows = slit_lattice_rows,
  columns = slit_lattice_columns, strip = slit_lattice_strip,
  slit_length = slit_lattice_slit_length, bridge = slit_lattice_bridge,
  clearance = slit_lattice_clearance, slit = slit_lattice_slit, facets = slit_lattice_facets,
  layer = slit_lattice_layer, line_width = slit_lattice_line_width);
