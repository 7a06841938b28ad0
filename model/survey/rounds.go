package survey

// Rounds is the chance that one of several rounds at least finds the infection that each
// by itself finds with that chance: 1 - product of (1 - SeP). It takes the rounds as
// independent; an animal that a test keeps missing is missed in every round.
func Rounds(sensitivities ...float64) (float64, error) {
	missed := 1.0
	for _, s := range sensitivities {
		if err := chance("sensitivity of a round", s); err != nil {
			return 0, err
		}
		missed *= 1 - s
	}
	return 1 - missed, nil
}

// RoundsNeeded is the fewest equal rounds, or tests of one animal, that find the infection
// with the chance that is wanted (above 0, below 1), and what they give.
func RoundsNeeded(sensitivity, wanted float64) (rounds int, reached float64, err error) {
	if err := first(some("sensitivity of a round", sensitivity), within("wanted chance", wanted)); err != nil {
		return 0, 0, err
	}
	rounds, err = draws(sensitivity, wanted)
	return rounds, anyOf(sensitivity, rounds), err
}
