// Package laminate is two or more colours in one cavity: where they part, what
// each takes of a shot, a cup and an order, and where the line lands.
//
//  1. Colours are listed from belly to back, everywhere.
//  2. A share is a fraction of volume in the cavity, belly first.
//  3. Every account is kept in grams and closes: what is bought is in baits, in
//     mixed trimmings or left over in one colour.
//  4. What barrels deliver decides the volumes; the drawn line only asks.
package laminate
