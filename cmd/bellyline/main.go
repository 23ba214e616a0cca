// Command bellyline says what a soft-bait cavity holds and what a pour needs.
package main

func main() {}
