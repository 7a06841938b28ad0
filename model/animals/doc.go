// Package animals keeps the animals of a collection: who each one is, where it
// came from, and whether it is still here. Its documents are of type
// model.TypeAnimal; the entries about an animal belong to other packages.
package animals
