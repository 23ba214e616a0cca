// Package cool says when a bait has set: transient heat conduction from the hot
// plastic into the wall of the mold, on a grid that follows the surface to
// second order.
//
// # What holds everywhere
//
//  1. Temperatures are degrees Celsius, lengths mm, times s, diffusivity mm2/s.
//  2. The bait begins at one temperature. Its wall is the mold: held at one
//     temperature, or a block of metal that warms as it takes the heat.
//  3. A contact resistance is given as the thickness of plastic that resists as
//     much, in mm: conductivity of the plastic over heat transfer coefficient.
//     0 is perfect contact, infinity an insulated wall.
//  4. Heat is conserved to rounding: what leaves a cell enters its neighbour or
//     the wall.
//  5. No temperature ever leaves the range between the melt and the mold.
//  6. Results are the same bit for bit whatever the number of threads.
package cool
