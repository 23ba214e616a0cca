//go:build !race

package mesh

const raceDetector = false
