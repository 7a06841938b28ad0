package main

import "coilward/assets"

// version is the program's version, as the window's papers say it too.
func version() string { return assets.Version }
