package cavity

import (
	"fmt"
	"sync"

	"github.com/golang/geo/r3"
)

// Upward returns the cavity seen with another direction for its back: all heights,
// shares and sections are then along it. It costs one build of levels.
func (c *Cavity) Upward(back r3.Vector) (*Cavity, error) {
	levels, err := c.Mesh.Levels(back)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c.Name, err)
	}
	other := *c
	other.Back, other.levels, other.memo = levels.Plane(0).Normal, levels, newMemo()
	other.silhouette = sync.OnceValue(other.measureSilhouette)
	return &other, nil
}
