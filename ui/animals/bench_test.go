package animals_test

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/ui/look"
	"coilward/ui/uitest"
)

// Searching in 2,000 animals: from the key to the rows filled anew.
func BenchmarkSearchPerKey(b *testing.B) {
	h := open(b, "en", fyne.NewSize(1600, 900), look.ByDay, func(c *collection.Collection) {
		for i := range 2000 {
			add := animals.Add{Animal: animals.Animal{Name: fmt.Sprintf("Animal %d", i), Code: fmt.Sprintf("M-%d", i), Morph: "pastel"}}
			if _, err := c.Do(add); err != nil {
				b.Fatal(err)
			}
		}
	})
	c := h.Window().Canvas()
	uitest.Type(c, "a")
	b.ResetTimer()
	for b.Loop() {
		uitest.Type(c, "1")
		b.StopTimer()
		uitest.Key(c, fyne.KeyBackspace)
		b.StartTimer()
	}
}
