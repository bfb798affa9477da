// waisted_spindle_customizer.scad - opens waisted_spindle.scad with its values in the Customizer
// Sliders reach as far as works while the others stay; what lies beyond goes into the text.
// Needs waisted_spindle.scad beside it. Written by scadgen 0.2.0.
// Fingerprint of this text as written: 53b1b2d55f3fb707

use <waisted_spindle.scad>

/* [Part] */
// What to draw
waisted_spindle_part = "both";  // [both, fixed, moving, fixed_relief, moving_relief]
// Angle drawn; 0 is how it prints (deg)
waisted_spindle_angle = 0;  // [-110:1:110]
// Turn that the hinge must be free for (deg)
waisted_spindle_swing = 110;  // [10:5:145]
// Turn that flat faces stop; 0 for no such stop (deg)
waisted_spindle_stop_at = 0;  // [0, 110, 115, 120, 125, 130, 135, 140, 145]
// Turn at which it prints; 0 is flat (deg)
waisted_spindle_printed_at = 0;  // [0:5:110]
// Opening, from shut, that a heel stops; 0: none (deg)
waisted_spindle_opens_to = 0;  // 5
/* [Size] */
// Height of the hinge; 0: 40 or as needed (mm)
waisted_spindle_height = 0;  // [0:0.5:200]
// Diameter of the shaft (mm)
waisted_spindle_shaft = 8;  // [5.5:0.5:30]
// Wall of a ring around the shaft (mm)
waisted_spindle_wall = 2.4;  // [1.4:0.1:8]
// Height of the straight part of a knuckle; 0: 4 or as needed (mm)
waisted_spindle_knuckle = 0;  // [0:0.5:30]
// Depth of the waist in the shaft (mm)
waisted_spindle_waist = 1.8;  // [1.5:0.1:3.1]
// Rings of the moving link, one above the other
waisted_spindle_rings = 1;  // [1:1:6]
/* [Fit] */
// Air gap, square to the walls (mm)
waisted_spindle_clearance = 0.3;  // [0.2:0.05:0.45]
// Chamfer along the bed, for the first layer's spread (mm)
waisted_spindle_foot = 0.4;  // [0.3:0.1:1]
// Grip of the waist that is left after all play (mm)
waisted_spindle_hold = 0.9;  // [0.4:0.1:1.4]
/* [Leaves] */
// Length of a leaf; 0 leaves a plain stub (mm)
waisted_spindle_leaf_length = 15;  // [0:0.5:100]
// Thickness of a leaf (mm)
waisted_spindle_leaf_thickness = 4;  // [1.2:0.2:7.4]
// Radius of a leaf's free corners; 0: square (mm)
waisted_spindle_leaf_corner = 2;  // [0:0.5:20]
// Screws that hold a leaf
waisted_spindle_screw = 0;  // [0:none, 1:M3, 2:M4, 3:M5]
// Screws in a leaf, if any
waisted_spindle_screws = 2;  // [1:1:8]
// Series of the clearance holes (ISO 273)
waisted_spindle_hole_series = 1;  // [0:fine, 1:medium, 2:coarse]
// Countersink for a flat head
waisted_spindle_head = 1;  // [0:not sunk, 1:ISO 10642, 2:wood screw]
// From the axis back to the middle of a leaf; 0: in its plane (mm)
waisted_spindle_setback = 0;  // [0:0.5:1.5]
/* [Quality] */
// Facets per full turn
waisted_spindle_facets = 64;  // [16:4:256]
// Thickest layer that prints it (mm)
waisted_spindle_layer = 0.3;  // [0.04:0.02:0.32]
// Width of a printed line (mm)
waisted_spindle_line_width = 0.45;  // [0.4:0.05:0.7]
/* [Hidden] */
waisted_spindle(part = waisted_spindle_part, angle = waisted_spindle_angle,
  swing = waisted_spindle_swing, stop_at = waisted_spindle_stop_at,
  printed_at = waisted_spindle_printed_at, opens_to = waisted_spindle_opens_to,
  height = waisted_spindle_height, shaft = waisted_spindle_shaft, wall = waisted_spindle_wall,
  knuckle = waisted_spindle_knuckle, waist = waisted_spindle_waist, rings = waisted_spindle_rings,
  clearance = waisted_spindle_clearance, foot = waisted_spindle_foot, hold = waisted_spindle_hold,
  leaf_length = waisted_spindle_leaf_length, leaf_thickness = waisted_spindle_leaf_thickness,
  leaf_corner = waisted_spindle_leaf_corner, screw = waisted_spindle_screw,
  screws = waisted_spindle_screws, hole_series = waisted_spindle_hole_series,
  head = waisted_spindle_head, setback = waisted_spindle_setback, facets = waisted_spindle_facets,
  layer = waisted_spindle_layer, line_width = waisted_spindle_line_width);
