// Package drawing is what every picture of the program is made of: points,
// paths, affine maps, colours by role, and the pen that a picture is drawn
// with. Pictures know pens only; a screen and a paper each bring their own.
package drawing
