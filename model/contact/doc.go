// Package contact knows what a positive is: something was detected in a sample, so
// it says who was near, from when a "not detected" speaks, and what is to be done now.
// A positive is no word on whether an animal is ill, and its end none on whether it
// carries anything.
package contact
