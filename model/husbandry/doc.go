// Package husbandry keeps the room as it stands: places (rooms, racks, shelves,
// enclosures), the stays of animals in them, tools that go from one animal to
// the next, cleanings, and the instruments that readings are taken with. Its
// rules are pure; its commands join them with what the collection holds.
package husbandry
