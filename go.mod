module bellyline

go 1.26.0

require (
	github.com/goccy/go-yaml v1.19.2 // indirect
	github.com/golang/geo v0.0.0-20260818125358-b200a1149890 // indirect
	github.com/google/go-cmp v0.7.0 // indirect
	github.com/hschendel/stl v1.0.4 // indirect
	github.com/rogpeppe/go-internal v1.16.0 // indirect
	github.com/spf13/pflag v1.1.0 // indirect
	golang.org/x/sync v0.25.0 // indirect
	pgregory.net/rapid v1.3.0 // indirect
)
