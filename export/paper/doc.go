// Package paper describes a printed document as a small tree of blocks, lays it
// out on pages and draws it on a Canvas; it builds the health record from what
// a collection holds. It knows no PDF and no screen: export/pdf and the preview
// of the window are two canvases for the same pages. It imports of our packages
// only model and assets, and measures with the embedded faces itself, so that
// every canvas gets the same lines and pages.
package paper
