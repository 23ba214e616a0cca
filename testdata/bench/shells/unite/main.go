// Command unite reads a binary STL file, makes one clean surface of its shells, and
// writes that: what is timed against another library. Usage: unite FILE OUT
package main

import (
	"context"
	"fmt"
	"os"

	"bellyline/mesh/stl"
	"bellyline/mesh/union"
)

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "unite: name a file and the one to write")
		os.Exit(2)
	}
	if err := unite(os.Args[1], os.Args[2]); err != nil {
		fmt.Fprintln(os.Stderr, "unite:", err)
		os.Exit(1)
	}
}

func unite(from, to string) error {
	ctx := context.Background()
	read, err := stl.ReadFile(ctx, from, stl.ReadOptions{})
	if err != nil {
		return err
	}
	solid, err := union.Of(ctx, read.Mesh)
	if err != nil {
		return err
	}
	fmt.Printf("%d facets, %g mm3\n", len(solid.Mesh.Triangles), solid.VolumeMM3)
	return stl.WriteFile(to, "union", solid.Mesh)
}
