package jot

import (
	"reflect"
	"slices"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/husbandry"
)

// Body is what a reading would note: one of care's bodies.
type Body = care.Body

// Reading is one thing that a line may say.
type Reading struct {
	Animals []model.AnimalID // in the order in which they were given to Known
	// Group is the "all" or the place that stood for the animals, as it is called;
	// empty where they were named one by one. All tells the two apart.
	Group string
	All   bool
	Body  Body // nil of a cleaning and a question
	// Cleaning is what was done to the boxes in Places; nil: nothing was.
	Cleaning *husbandry.Cleaning
	Places   []model.PlaceID
	// Question is what is to be asked of a vet about the one animal; empty: nothing is.
	Question string
	At       model.Moment
	Words    []Word // in the order of the line; they cover all of it but spaces and commas
}

// Word is a word or phrase of the line and what it was taken for.
type Word struct {
	From, To int // bytes of the line
	As       As
	Who      string // whom it names, in full; of AsWhom alone
}

// As is what a word was taken for.
type As string

// What a word can be taken for.
const (
	AsWhom    As = "whom"
	AsDay     As = "day"
	AsTime    As = "time"
	AsMass    As = "mass"
	AsCount   As = "count"
	AsGrade   As = "grade"
	AsWeight  As = "weight"
	AsGut     As = "gut"
	AsOutcome As = "outcome"
	AsPrey    As = "prey"
	AsSize    As = "size"
	AsState   As = "state"
	AsShed    As = "shed"
	AsBlue    As = "blue"
	AsCaps    As = "caps"
	AsTip     As = "tip"
	AsFaeces  As = "faeces"
	AsUrates  As = "urates"
	AsTrait   As = "trait"
	AsMites   As = "mites"
	AsWhere   As = "where"
	AsClean   As = "clean"
	AsNote    As = "note"
	// AsQuestion is the word that asks, AsAsked the words that are asked.
	AsQuestion As = "question"
	AsAsked    As = "asked"
	AsFiller   As = "filler" // a word that says nothing of its own, such as "a"
)

// Answer is what became of a line. With one reading and no problem it can be
// noted; with several the person chooses; problems say why there is none.
type Answer struct {
	Readings []Reading
	Problems []Problem
}

// Problem is why a line cannot be noted, and where.
type Problem struct {
	From, To int // bytes of the line; both 0 where the whole line is meant
	Refusal  *model.Refusal
	// Candidates are the animals that an open name may mean.
	Candidates []model.AnimalID
}

// MostReadings is how many readings a person is asked to choose from. A line
// with more must name what is meant.
const MostReadings = 9

// Quantities reads what is typed of masses, days and times; *wording.Text does.
// The errors are *model.Refusal.
type Quantities interface {
	ParseMass(typed string) (model.Mass, error)
	ParseDay(typed string, today model.Day) (model.Day, error)
	ParseTime(typed string) (int, error)
}

// alike reports whether two readings would note the same.
func (r Reading) alike(o Reading) bool {
	return slices.Equal(r.Animals, o.Animals) && slices.Equal(r.Places, o.Places) && r.At == o.At && r.Question == o.Question && reflect.DeepEqual(r.Body, o.Body) && reflect.DeepEqual(r.Cleaning, o.Cleaning)
}
