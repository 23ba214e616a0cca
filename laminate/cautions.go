package laminate

// Cautions returns what a pour card must say about getting hurt, in the order of
// the work. The maker's safety data sheet, local codes and licensed practice
// come first.
func Cautions() []string {
	return []string{
		"The maker's safety data sheet, local codes and licensed practice come before anything on this card.",
		"Ventilate: pour outdoors or under a hood. Overheated vinyl gives off hydrogen chloride: sharp smell or smoke means heat off, get out, air the room.",
		"Never heat past the ceiling on this card. Read the letter: F is not C.",
		"Wear eye protection, heat-proof gloves, long sleeves, closed shoes. Hot plastisol sticks and goes on burning: cool under running water, do not peel it off, see a doctor.",
		"Everything dry: a drop of water in a mold, cup, salt or pigment flashes to steam and throws hot plastic.",
		"Vacuum only in a vessel rated for it, behind a shield, with goggles: others implode. At most half full: it foams.",
		"A microwave used for plastisol is never used for food again; nor are the cups and spoons.",
		"Clamp the mold, hold the injector upright and steady, keep hands out of the parting face. Children and pets stay out.",
	}
}
