//go:build race

package mesh

// raceDetector tells tests to try fewer cases: the detector makes them many
// times slower.
const raceDetector = true
