module curvelint

go 1.26.0
