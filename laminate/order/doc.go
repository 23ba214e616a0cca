// Package order plans an order of several baits, colours and molds at once: which
// shots go into which heating, what is measured into each cup, when every mold is
// free again, where every gram ends up and what all of it costs.
//
//  1. No fewer good baits than ordered come out, scrap and warm-up shots aside.
//  2. In grams, what is bought of a colour and what it takes of mixed trimmings is
//     what ends in baits, in mixed trimmings, on the shelf, or too old to use.
//  3. Trimmings of two colours never go back into either; only a colour that is
//     marked as taking mixed trimmings gets them.
//  4. Nothing is heated again more often than the shop allows. Of a batch the oldest
//     part counts.
//  5. No mold is filled before it has cooled, and no shot is begun after the window
//     of its heating has closed.
//  6. No vessel is filled past its mark.
package order
