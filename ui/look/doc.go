// Package look is the hand that every screen is drawn with: colours by name for
// light and dark, faces and steps of type, spacing, and the Fyne theme made of
// them. Nothing else in ui names a colour or a size of type by its value.
package look
