// captive_cone_customizer.scad - opens captive_cone.scad with its values in the Customizer
// Sliders reach as far as works while the others stay; what lies beyond goes into the text.
// Needs captive_cone.scad beside it. Written by scadgen 0.2.0.
// Fingerprint of this text as written: d24fd4990c0172e4

use <captive_cone.scad>

/* [Part] */
// What to draw
captive_cone_part = "both";  // [both, fixed, moving, fixed_relief, moving_relief]
// Angle drawn; 0 is how it prints (deg)
captive_cone_angle = 0;  // [-110:1:110]
// Turn that the hinge must be free for (deg)
captive_cone_swing = 110;  // [10:5:145]
// Turn that flat faces stop; 0 for no such stop (deg)
captive_cone_stop_at = 0;  // [0, 110, 115, 120, 125, 130, 135, 140, 145]
// Turn at which it prints; 0 is flat (deg)
captive_cone_printed_at = 0;  // [0:5:110]
// Opening, from shut, that a heel stops; 0: none (deg)
captive_cone_opens_to = 0;  // 5
/* [Size] */
// Height of the hinge; 0: 16 or as needed (mm)
captive_cone_height = 0;  // [0:0.5:100]
// Diameter of the shaft (mm)
captive_cone_shaft = 8;  // [5.5:0.5:30]
// Wall of a ring around the shaft (mm)
captive_cone_wall = 2.4;  // [1.4:0.1:8]
// Height of the straight part of a knuckle; 0: 4 or as needed (mm)
captive_cone_knuckle = 0;  // [0:0.5:30]
// Depth of the waist in the shaft (mm)
captive_cone_waist = 1.8;  // [1.5:0.1:3.1]
/* [Fit] */
// Air gap, square to the walls (mm)
captive_cone_clearance = 0.3;  // [0.2:0.05:0.45]
// Chamfer along the bed, for the first layer's spread (mm)
captive_cone_foot = 0.4;  // [0.3:0.1:1]
// Grip of the waist that is left after all play (mm)
captive_cone_hold = 0.9;  // [0.4:0.1:1.4]
/* [Leaves] */
// Length of a leaf; 0 leaves a plain stub (mm)
captive_cone_leaf_length = 15;  // [0:0.5:100]
// Thickness of a leaf (mm)
captive_cone_leaf_thickness = 4;  // [1.2:0.2:7.4]
// Radius of a leaf's free corners; 0: square (mm)
captive_cone_leaf_corner = 2;  // [0:0.5:20]
// Screws that hold a leaf
captive_cone_screw = 0;  // [0:none, 1:M3, 2:M4, 3:M5]
// Screws in a leaf, if any
captive_cone_screws = 2;  // [1:1:8]
// Series of the clearance holes (ISO 273)
captive_cone_hole_series = 1;  // [0:fine, 1:medium, 2:coarse]
// Countersink for a flat head
captive_cone_head = 1;  // [0:not sunk, 1:ISO 10642, 2:wood screw]
// From the axis back to the middle of a leaf; 0: in its plane (mm)
captive_cone_setback = 0;  // [0:0.5:1.5]
/* [Quality] */
// Facets per full turn
captive_cone_facets = 64;  // [16:4:256]
// Thickest layer that prints it (mm)
captive_cone_layer = 0.3;  // [0.04:0.02:0.32]
// Width of a printed line (mm)
captive_cone_line_width = 0.45;  // [0.4:0.05:0.8]
/* [Hidden] */
captive_cone(part = captive_cone_part, angle = captive_cone_angle, swing = captive_cone_swing,
  stop_at = captive_cone_stop_at, printed_at = captive_cone_printed_at,
  opens_to = captive_cone_opens_to, height = captive_cone_height, shaft = captive_cone_shaft,
  wall = captive_cone_wall, knuckle = captive_cone_knuckle, waist = captive_cone_waist,
  clearance = captive_cone_clearance, foot = captive_cone_foot, hold = captive_cone_hold,
  leaf_length = captive_cone_leaf_length, leaf_thickness = captive_cone_leaf_thickness,
  leaf_corner = captive_cone_leaf_corner, screw = captive_cone_screw, screws = captive_cone_screws,
  hole_series = captive_cone_hole_series, head = captive_cone_head, setback = captive_cone_setback,
  facets = captive_cone_facets, layer = captive_cone_layer, line_width = captive_cone_line_width);
