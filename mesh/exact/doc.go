// Package exact adds and multiplies float64 numbers without losing what they lose:
// sums that keep their rounding errors, numbers of twice the precision, and the
// bounds that go with them.
package exact
