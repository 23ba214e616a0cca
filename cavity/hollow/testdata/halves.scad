// Three mold halves and what is cut out of them, for a test that compares what
// bellyline finds with the volumes of openscad's own solids.
//
//   openscad -D 'mold="swim"' -D 'part="half"' -o half.stl halves.scad
//
// mold: swim, sprue or steps; part: half, all (everything that is cut out), network
// (what hangs together), bait (one cavity without its gate), hole (one), lower (steps).
mold = "swim";
part = "half";
$fn = 20;

module below(z = 0) { intersection() { children(); translate([-500, -500, z - 500]) cube([1000, 1000, 500]); } }
module egg(x, y, a, b, c) { translate([x, y, 0]) scale([a, b, c]) sphere(1, $fn = 12); }
module stick(p, q, r1, r2) { hull() { translate(p) sphere(r1, $fn = 8); translate(q) sphere(r2, $fn = 8); } }

// swim: two baits with thin tails on a round runner that leaves through the side;
// a block with rounded corners; pin and bolt holes.
module swim_block() { translate([0, 0, -18]) linear_extrude(18) offset(6) square([128, 78], center = true); }
module swim_bait(y) {
  egg(8, y, 26, 8, 6);
  stick([-16, y, 0], [-34, y, 0], 1.2, 1.2);
  stick([-36, y, 0], [-42, y, 0], 4, 2);
}
module swim_network() {
  for (y = [-22, 22]) { swim_bait(y); stick([32, y, 0], [46, y, 0], 1, 1.4); }
  stick([46, -22, 0], [46, 22, 0], 3, 3);
  stick([46, 0, 0], [90, 0, 0], 3.2, 4.5);
}
module swim_holes() {
  for (p = [[-60, 36], [60, -36]]) translate([p[0], p[1], -10]) cylinder(r = 3, h = 20);
  for (p = [[-60, -36], [60, 36]]) translate([p[0], p[1], -30]) cylinder(r = 2.6, h = 60);
}

// sprue: two undercut balls round a sprue that goes through the block; the runner
// has a flat floor. The rims of the balls are rounded off.
module sprue_block() { translate([-50, -50, -24]) cube([100, 100, 24]); }
module sprue_ball(a) {
  rotate(a) translate([30, 0, 0]) {
    translate([0, 0, -6]) sphere(10, $fn = 12);
    rotate_extrude($fn = 12) difference() { square([9.2, 1.2]); translate([9.4, -1.2]) circle(1.2, $fn = 8); }
  }
}
module sprue_network() {
  translate([0, 0, -60]) cylinder(r1 = 5, r2 = 4, h = 61);
  for (a = [0, 180]) {
    sprue_ball(a);
    rotate(a) translate([0, -2.5, -3]) cube([17, 5, 6]);
    rotate(a) translate([16, -0.8, -1.2]) cube([8, 1.6, 3]);
  }
}

// steps: the parting face steps down by 6 along x = 20; a hollow on each level, and
// a groove that leaves through a side that slopes.
module steps_block() {
  difference() {
    translate([-60, -40, -20]) cube([120, 80, 20]);
    translate([20, -60, -6]) cube([80, 120, 20]);
    translate([-60, 0, 0]) rotate([0, -15, 0]) translate([-50, -100, -60]) cube([50, 200, 120]);
  }
}
module steps_upper() { egg(-14, 18, 22, 9, 7); }
module steps_lower() { translate([0, 0, -6]) egg(40, 0, 12, 24, 8); }
module steps_groove() { translate([-100, -18, 0]) rotate([0, 90, 0]) cylinder(r = 5, h = 90); }

module block() { if (mold == "swim") swim_block(); else if (mold == "sprue") sprue_block(); else steps_block(); }
module network() { if (mold == "swim") swim_network(); else if (mold == "sprue") sprue_network(); else steps_groove(); }
module bait() { if (mold == "swim") swim_bait(22); else if (mold == "sprue") sprue_ball(0); else steps_upper(); }
module everything() {
  network();
  if (mold == "swim") swim_holes();
  if (mold == "steps") { steps_upper(); steps_lower(); }
}

if (part == "half") difference() { block(); everything(); }
else if (part == "all") intersection() { block(); everything(); }
else if (part == "network") intersection() { block(); network(); }
else if (part == "bait") intersection() { block(); bait(); }
else if (part == "lower") intersection() { block(); steps_lower(); }
