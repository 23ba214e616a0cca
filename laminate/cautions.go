package laminate

// Step is a step of the work at which somebody can get hurt.
type Step string

// The steps in their order; Always holds for all of them.
const (
	Always  Step = "always"
	Measure Step = "measure"
	Degas   Step = "degas"
	Heat    Step = "heat"
	Shoot   Step = "shoot"
)

// Caution is what a pour card says beside a step.
type Caution struct {
	Step Step
	Text string
}

// cautions are common practice, no source, in the order of the work. The maker's
// safety data sheet, local codes and licensed practice come first.
var cautions = [...]Caution{
	{Always, "The maker's safety data sheet, local codes and licensed practice come before anything on this card."},
	{Always, "Ventilate: pour outdoors or under a hood. Overheated vinyl gives off hydrogen chloride: sharp smell or smoke means heat off, get out, air the room."},
	{Heat, "Never heat past the ceiling on this card. Read the letter: F is not C."},
	{Always, "Wear eye protection, heat-proof gloves, long sleeves, closed shoes. Hot plastisol sticks and goes on burning: cool under running water, do not peel it off, see a doctor."},
	{Measure, "Everything dry: a drop of water in a mold, cup, salt or pigment flashes to steam and throws hot plastic."},
	{Degas, "Vacuum only in a vessel rated for it, behind a shield, with goggles: others implode. At most half full: it foams."},
	{Heat, "A microwave used for plastisol is never used for food again; nor are the cups and spoons."},
	{Shoot, "Clamp the mold, hold the injector upright and steady, keep hands out of the parting face. Children and pets stay out."},
}

// Cautions returns what a pour card must say about getting hurt.
func Cautions() []string {
	var all []string
	for _, c := range cautions {
		all = append(all, c.Text)
	}
	return all
}

// CautionsAt returns what must be said beside one step.
func CautionsAt(step Step) []string {
	var here []string
	for _, c := range cautions {
		if c.Step == step {
			here = append(here, c.Text)
		}
	}
	return here
}
