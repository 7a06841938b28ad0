package assets

// Version is the program's version, as it stands on every paper and in the
// window. FyneApp.toml, which the packages are built by, says the same.
const Version = "0.1.0"
