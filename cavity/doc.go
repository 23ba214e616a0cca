// Package cavity is one mold cavity and what goes into it: what it holds, what
// the bait weighs, what runner and sprue take, what a mix of plastisol and
// additives becomes.
//
// Three volumes must not be confused, and none is conserved but through mass:
//
//  1. cold volume: what is measured into a cup before heating;
//  2. hot volume: what flows into the mold, larger by the expansion;
//  3. mass: the same before and after, and what every account here is kept in.
//
// A cavity is filled hot, and while the bait shrinks it draws more from the
// runner. So the mass of a bait lies between the hot density times the cavity
// (nothing fed) and the cold density times the cavity (fully fed).
package cavity
