// Package units holds the measures of a pouring bench: US kitchen volumes,
// masses, temperatures and lengths, how people write them and how they are
// printed back.
//
//  1. Every quantity is a type of its own, held in one metric unit: Volume in
//     millilitres, Mass in grams, Celsius in degrees Celsius, Length in
//     millimetres.
//  2. "cup" is the US customary cup of 236.588 mL, not the 240 mL of food labels.
//  3. "oz" is a mass; a volume is "fl oz".
//  4. A temperature is never read or printed without its letter.
package units
