// Package newcomers joins what the capabilities know of each animal in quarantine
// into the facts that its protocol asks for, and tells how it stands.
package newcomers
