// nested_cones_customizer.scad - opens nested_cones.scad with its values in the Customizer
// Sliders reach as far as works while the others stay; what lies beyond goes into the text.
// Needs nested_cones.scad beside it. Written by scadgen 0.2.0.
// Fingerprint of this text as written: f3c92906ab12921e

use <nested_cones.scad>

/* [Part] */
// What to draw
nested_cones_part = "both";  // [both, fixed, moving, fixed_relief, moving_relief]
// Angle drawn; 0 is how it prints (deg)
nested_cones_angle = 0;  // [-110:1:110]
// Turn that the hinge must be free for (deg)
nested_cones_swing = 110;  // [10:5:135]
// Turn that flat faces stop; 0 for no such stop (deg)
nested_cones_stop_at = 0;  // [0, 110, 115, 120, 125, 130, 135]
// Turn at which it prints; 0 is flat (deg)
nested_cones_printed_at = 0;  // [0:5:110]
// Opening, from shut, that a heel stops; 0: none (deg)
nested_cones_opens_to = 0;  // 5
/* [Size] */
// Height of the hinge; 0: 56 or as needed (mm)
nested_cones_height = 0;  // [0:0.5:300]
// Diameter of the post that carries a cone (mm)
nested_cones_shaft = 6;  // [4:0.5:30]
// Wall of a ring around the shaft (mm)
nested_cones_wall = 2.4;  // [1.4:0.1:8]
// Height of the straight part of a knuckle; 0: 4 or as needed (mm)
nested_cones_knuckle = 0;  // [0:0.5:30]
// Links of the stack; those of the two sides take turns
nested_cones_links = 3;  // [3:1:9]
/* [Fit] */
// Air gap, square to the walls (mm)
nested_cones_clearance = 0.3;  // [0.2:0.05:0.8]
// Chamfer along the bed, for the first layer's spread (mm)
nested_cones_foot = 0.4;  // [0.3:0.1:1]
/* [Leaves] */
// Length of a leaf; 0 leaves a plain stub (mm)
nested_cones_leaf_length = 15;  // [0:0.5:100]
// Thickness of a leaf (mm)
nested_cones_leaf_thickness = 4;  // [1.2:0.2:6.8]
// Radius of a leaf's free corners; 0: square (mm)
nested_cones_leaf_corner = 2;  // [0:0.5:20]
// Screws that hold a leaf
nested_cones_screw = 0;  // [0:none, 1:M3, 2:M4, 3:M5]
// Screws in a leaf, if any
nested_cones_screws = 2;  // [1:1:8]
// Series of the clearance holes (ISO 273)
nested_cones_hole_series = 1;  // [0:fine, 1:medium, 2:coarse]
// Countersink for a flat head
nested_cones_head = 1;  // [0:not sunk, 1:ISO 10642, 2:wood screw]
// From the axis back to the middle of a leaf; 0: in its plane (mm)
nested_cones_setback = 0;  // [0:0.5:1]
/* [Quality] */
// Facets per full turn
nested_cones_facets = 64;  // [16:4:256]
// Thickest layer that prints it (mm)
nested_cones_layer = 0.3;  // [0.04:0.02:0.32]
// Width of a printed line (mm)
nested_cones_line_width = 0.45;  // [0.4:0.05:0.7]
/* [Hidden] */
nested_cones(part = nested_cones_part, angle = nested_cones_angle, swing = nested_cones_swing,
  stop_at = nested_cones_stop_at, printed_at = nested_cones_printed_at,
  opens_to = nested_cones_opens_to, height = nested_cones_height, shaft = nested_cones_shaft,
  wall = nested_cones_wall, knuckle = nested_cones_knuckle, links = nested_cones_links,
  clearance = nested_cones_clearance, foot = nested_cones_foot,
  leaf_length = nested_cones_leaf_length, leaf_thickness = nested_cones_leaf_thickness,
  leaf_corner = nested_cones_leaf_corner, screw = nested_cones_screw, screws = nested_cones_screws,
  hole_series = nested_cones_hole_series, head = nested_cones_head, setback = nested_cones_setback,
  facets = nested_cones_facets, layer = nested_cones_layer, line_width = nested_cones_line_width);
