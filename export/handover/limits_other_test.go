//go:build !unix

package handover

import "testing"

// notFiles are a folder.
func notFiles(_ *testing.T, folder string) map[string]string {
	return map[string]string{"a folder": folder}
}
