// facing_cones_customizer.scad - opens facing_cones.scad with its values in the Customizer
// Sliders reach as far as works while the others stay; what lies beyond goes into the text.
// Needs facing_cones.scad beside it. Written by scadgen 0.2.0.
// Fingerprint of this text as written: 123f8e4bcd2c6c5a

use <facing_cones.scad>

/* [Part] */
// What to draw
facing_cones_part = "both";  // [both, fixed, moving, fixed_relief, moving_relief]
// Angle drawn; 0 is how it prints (deg)
facing_cones_angle = 0;  // [-110:1:110]
// Turn that the hinge must be free for (deg)
facing_cones_swing = 110;  // [10:5:140]
// Turn that flat faces stop; 0 for no such stop (deg)
facing_cones_stop_at = 0;  // [0, 110, 115, 120, 125, 130, 135, 140]
// Turn at which it prints; 0 is flat (deg)
facing_cones_printed_at = 0;  // [0:5:110]
// Opening, from shut, that a heel stops; 0: none (deg)
facing_cones_opens_to = 0;  // 5
/* [Size] */
// Height of the hinge; 0: 24 or as needed (mm)
facing_cones_height = 0;  // [0:0.5:200]
// Diameter of a cone at its root (mm)
facing_cones_cone = 7;  // [4.5:0.5:30]
// Height of a cone (mm)
facing_cones_tip = 2.1;  // [1.7:0.1:3.2]
// Wall of the link around its sockets (mm)
facing_cones_wall = 2.4;  // [1.4:0.1:8]
// Height of an ear; 0: 4 or as needed (mm)
facing_cones_ear = 0;  // [0:0.5:20]
/* [Fit] */
// Air gap, square to the walls (mm)
facing_cones_clearance = 0.3;  // [0.2:0.05:0.45]
// Chamfer along the bed, for the first layer's spread (mm)
facing_cones_foot = 0.4;  // [0.3:0.1:1]
// Grip of a cone that is left after all play (mm)
facing_cones_hold = 0.8;  // [0.4:0.1:1.2]
/* [Leaves] */
// Length of a leaf; 0 leaves a plain stub (mm)
facing_cones_leaf_length = 15;  // [0:0.5:100]
// Thickness of a leaf (mm)
facing_cones_leaf_thickness = 4;  // [1.2:0.2:8.4]
// Radius of a leaf's free corners; 0: square (mm)
facing_cones_leaf_corner = 2;  // [0:0.5:20]
// Screws that hold a leaf
facing_cones_screw = 0;  // [0:none, 1:M3, 2:M4, 3:M5]
// Screws in a leaf, if any
facing_cones_screws = 2;  // [1:1:8]
// Series of the clearance holes (ISO 273)
facing_cones_hole_series = 1;  // [0:fine, 1:medium, 2:coarse]
// Countersink for a flat head
facing_cones_head = 1;  // [0:not sunk, 1:ISO 10642, 2:wood screw]
// From the axis back to the middle of a leaf; 0: in its plane (mm)
facing_cones_setback = 0;  // [0:0.5:100]
/* [Quality] */
// Facets per full turn
facing_cones_facets = 64;  // [16:4:256]
// Thickest layer that prints it (mm)
facing_cones_layer = 0.3;  // [0.04:0.02:0.32]
// Width of a printed line (mm)
facing_cones_line_width = 0.45;  // [0.4:0.05:0.8]
/* [Hidden] */
facing_cones(part = facing_cones_part, angle = facing_cones_angle, swing = facing_cones_swing,
  stop_at = facing_cones_stop_at, printed_at = facing_cones_printed_at,
  opens_to = facing_cones_opens_to, height = facing_cones_height, cone = facing_cones_cone,
  tip = facing_cones_tip, wall = facing_cones_wall, ear = facing_cones_ear,
  clearance = facing_cones_clearance, foot = facing_cones_foot, hold = facing_cones_hold,
  leaf_length = facing_cones_leaf_length, leaf_thickness = facing_cones_leaf_thickness,
  leaf_corner = facing_cones_leaf_corner, screw = facing_cones_screw, screws = facing_cones_screws,
  hole_series = facing_cones_hole_series, head = facing_cones_head, setback = facing_cones_setback,
  facets = facing_cones_facets, layer = facing_cones_layer, line_width = facing_cones_line_width);
