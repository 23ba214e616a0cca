package cavity

import (
	"fmt"

	"bellyline/cavity/units"
)

// Hottest is past every ceiling: industry fuses plastisol at 177 to 204 C (350 to
// 400 F; from a plastisol processor's page), beyond which vinyl breaks down and
// gives off hydrogen chloride. It also catches a temperature in F taken for C.
const Hottest = units.Celsius(205)

// ColdestPour is below every pour: common plasticizers only gel at 72 to 118 C
// (Danish EPA 2010, table 2.3, after Wilson 1995), and fusion comes after that.
const ColdestPour = units.Celsius(120)

// PastHottest says what is wrong with vinyl at t where that is past Hottest, else "".
func PastHottest(t units.Celsius) string {
	if t <= Hottest {
		return ""
	}
	return fmt.Sprintf("%v is past %v, where vinyl breaks down and gives off hydrogen chloride; was F written as C?", t, Hottest)
}

// BelowColdestPour says what is wrong with vinyl poured at t where that is colder than
// ColdestPour, else "".
func BelowColdestPour(t units.Celsius) string {
	if t >= ColdestPour {
		return ""
	}
	return fmt.Sprintf("%v does not melt vinyl together; was C written as F?", t)
}
