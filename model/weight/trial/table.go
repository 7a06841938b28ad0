package trial

import (
	"fmt"
	"strings"

	"coilward/model/knowledge"
)

// seed is the first that there is; none was looked for.
const seed = 1

// Table sets the figures of the alarm out, in Markdown, for weighings that err by 1,
// 2 and 3 %, weekly, fortnightly and monthly.
func Table(t *knowledge.Tables) string {
	var table strings.Builder
	table.WriteString("| weighed every | errs by | false alarms in 100 years: steady adult | growing juvenile | days until found, half and 9 in 10: loses 1 % in 30 days | 3 % | 5 % | starving hatchlings found by day 21 | fasts of 7 % in 120 days with an alarm |\n")
	table.WriteString("|" + strings.Repeat("---|", 9) + "\n")
	for _, every := range []int{7, 14, 30} {
		for _, percent := range []float64{1, 2, 3} {
			run := func(a Animal, days, animals int) Figures {
				return Run(t, Plan{Animal: a, Noise: Noise{Percent: percent}, Every: every, Days: days, Animals: animals, Seed: seed})
			}
			steady, growing := run(Steady(), 365, 1000), run(Growing(), 365, 1000)
			starving, fast := run(Starving(), 28, 1000), run(Fasting(7, 120), 120, 500)
			cells := []string{
				fmt.Sprintf("%d days", every), fmt.Sprintf("%.0f %%", percent),
				fmt.Sprintf("%.1f", steady.PerHundredYears(steady.LookAgain+steady.Vet)), fmt.Sprintf("%.1f", growing.PerHundredYears(growing.Vet)),
				found(run(Losing(1), 365, 500)), found(run(Losing(3), 365, 500)), found(run(Losing(5), 365, 500)),
				fmt.Sprintf("%.0f %%", 100*starving.Share(starving.FirstVet, 21)), fmt.Sprintf("%.0f %%", 100*fast.Share(fast.First, 120)),
			}
			table.WriteString("| " + strings.Join(cells, " | ") + " |\n")
		}
	}
	return table.String()
}

// found says by which day half of the animals were found, and nine in ten.
func found(f Figures) string {
	var days []string
	for _, share := range []float64{0.5, 0.9} {
		if day, reached := f.By(f.First, share); reached {
			days = append(days, fmt.Sprint(day))
		} else {
			days = append(days, "not in a year")
		}
	}
	return strings.Join(days, ", ")
}
