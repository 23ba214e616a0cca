// Package stream says where the colour line of a laminate really lands: two
// streams share every cross-section in proportion to flow, not to area, and the
// thicker (colder) one takes more of it.
//
//  1. Volumes follow what was delivered. Areas of sections never replace that.
//  2. In a section the flow is laminar, developed, and Newtonian in each stream;
//     inertia, elasticity, swirl at the gate, freezing and air are left out.
//  3. A section's axes are across and back, in mm; below is the belly's side.
//  4. Flows are per unit pressure gradient: flow times viscosity over pressure
//     gradient is in mm4, whatever the viscosity.
//  5. Exchanging the colours mirrors every answer.
package stream
