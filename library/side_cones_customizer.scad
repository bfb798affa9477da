// side_cones_customizer.scad - opens side_cones.scad with its values in the Customizer
// Sliders reach as far as works while the others stay; what lies beyond goes into the text.
// Needs side_cones.scad beside it. Written by scadgen 0.2.0.
// Fingerprint of this text as written: 751cdee2ba9ac6af

use <side_cones.scad>

/* [Part] */
// What to draw
side_cones_part = "both";  // [both, fixed, moving, fixed_relief, moving_relief]
// Angle drawn; 0 is how it prints (deg)
side_cones_angle = 0;  // [0:1:110]
// Turn that the hinge must be free for (deg)
side_cones_swing = 110;  // [10:5:180]
// Turn that flat faces stop; 0 for no such stop (deg)
side_cones_stop_at = 0;  // [0,110,115,120,125,130,135,140,145,150,155,160,165,170,175]
// Turn at which a detent clicks; 0 for no detent (deg)
side_cones_detent_at = 0;  // 5
// Second turn at which it clicks; 0 for none (deg)
side_cones_detent_also = 0;  // 5
// Turn up to which, from detent_at, friction holds it; 0: it clicks (deg)
side_cones_detent_to = 0;  // 5
/* [Size] */
// Length of the hinge along its axis; 0: 30 or as needed (mm)
side_cones_length = 0;  // [0:0.5:200]
// Knuckles of the moving link; the fixed link has one more
side_cones_knuckles = 1;  // [1:1:12]
// Height of the axis over the bed; 0: as low as it can be (mm)
side_cones_axis_height = 0;  // [0:0.5:150]
// Height of your wall that carries raised knuckles; 0: leaf alone (mm)
side_cones_backing = 0;  // 0.5
// Diameter of a cone at its root (mm)
side_cones_cone = 7;  // [4.5:0.5:30]
// Height of a cone (mm)
side_cones_tip = 2.2;  // [1.7, 1.8, 1.9, 2, 2.1, 2.2, 2.3, 2.4, 2.5, 2.6, 2.7, 2.8, 2.9, 3, 3.3]
// Wall of a knuckle around its sockets (mm)
side_cones_wall = 2.4;  // [1.4:0.1:8]
/* [Fit] */
// Air gap, square to the walls (mm)
side_cones_clearance = 0.3;  // [0.2:0.05:0.45]
// Chamfer along the bed, for the first layer's spread (mm)
side_cones_foot = 0.4;  // [0.3:0.1:1]
// Grip of a cone that is left after all play (mm)
side_cones_hold = 0.8;  // [0.4:0.1:1.3]
/* [Leaves] */
// Length of a leaf; 0 leaves a plain stub (mm)
side_cones_leaf_length = 15;  // [0:0.5:100]
// Thickness of a leaf (mm)
side_cones_leaf_thickness = 4;  // [1.2:0.2:10.4]
// Radius of a leaf's free corners; 0: square (mm)
side_cones_leaf_corner = 2;  // [0:0.5:20]
// Screws that hold a leaf
side_cones_screw = 0;  // [0:none, 1:M3, 2:M4, 3:M5]
// Screws in a leaf, if any
side_cones_screws = 2;  // [1:1:8]
// Series of the clearance holes (ISO 273)
side_cones_hole_series = 1;  // [0:fine, 1:medium, 2:coarse]
// Countersink for a flat head
side_cones_head = 1;  // [0:not sunk, 1:ISO 10642, 2:wood screw]
// How far noses and bumps of a detent stand out (mm)
side_cones_detent_height = 1.5;  // [0.8:0.1:6]
// Length of a detent's arms, from the axis (mm)
side_cones_detent_arm = 24;  // [6:0.5:100]
// Thickness of a detent's arms (mm)
side_cones_detent_thickness = 1.4;  // [0.8:0.1:5]
/* [Quality] */
// Facets per full turn
side_cones_facets = 64;  // [16:4:256]
// Thickest layer that prints it (mm)
side_cones_layer = 0.3;  // [0.04:0.02:0.32]
// Width of a printed line (mm)
side_cones_line_width = 0.45;  // [0.4:0.05:0.8]
/* [Hidden] */
side_cones(part = side_cones_part, angle = side_cones_angle, swing = side_cones_swing,
  stop_at = side_cones_stop_at, detent_at = side_cones_detent_at,
  detent_also = side_cones_detent_also, detent_to = side_cones_detent_to,
  length = side_cones_length, knuckles = side_cones_knuckles, axis_height = side_cones_axis_height,
  backing = side_cones_backing, cone = side_cones_cone, tip = side_cones_tip,
  wall = side_cones_wall, clearance = side_cones_clearance, foot = side_cones_foot,
  hold = side_cones_hold, leaf_length = side_cones_leaf_length,
  leaf_thickness = side_cones_leaf_thickness, leaf_corner = side_cones_leaf_corner,
  screw = side_cones_screw, screws = side_cones_screws, hole_series = side_cones_hole_series,
  head = side_cones_head, detent_height = side_cones_detent_height,
  detent_arm = side_cones_detent_arm, detent_thickness = side_cones_detent_thickness,
  facets = side_cones_facets, layer = side_cones_layer, line_width = side_cones_line_width);
